using ProbeRunner.SimulatedPrinter.Scenarios;

namespace ProbeRunner.SimulatedPrinter.Physics;

/// <summary>Watches every move for what a careful person would not have done: the nozzle in the plate, clips hit, the pin dragged, axes moved that were not homed.</summary>
internal sealed class PathWatch
{
    private const double SampleMm = 2;
    private const double LiftAllowedUnhomedMm = 10.001;

    // Screws may still raise a corner by a few millimetres, heat and drift by a little.
    private const double MostRaisedMm = 3.5;

    private readonly Scenario _scenario;
    private readonly PrinterBody _body;
    private readonly double _highestPlateMm;
    private readonly double _pinReachMm;
    private readonly List<Scratch> _scratches = [];
    private readonly List<IllegalMove> _illegalMoves = [];

    public PathWatch(Scenario scenario, PrinterBody body, BedShape shape)
    {
        (_scenario, _body) = (scenario, body);
        _pinReachMm = scenario.Probe.TriggerDistanceMm + scenario.Probe.PinBelowTriggerMm;
        _highestPlateMm = HighestPlate(scenario.Bed, shape) + MostRaisedMm;
    }

    /// <summary>The smallest gap so far, mm; infinite while the nozzle was never near.</summary>
    public double LowestGapMm { get; private set; } = double.PositiveInfinity;

    public IReadOnlyList<Scratch> Scratches => _scratches;

    public IReadOnlyList<IllegalMove> IllegalMoves => _illegalMoves;

    /// <summary>Judges a move by what was asked for.</summary>
    public void Judge(Axes3 asked, bool stoppedAtTheEnd)
    {
        var sideways = (asked.X != 0 && !_body.Homed.X) || (asked.Y != 0 && !_body.Homed.Y);
        var isLift = asked is { X: 0, Y: 0, Z: > 0 and < LiftAllowedUnhomedMm };
        if (sideways || (asked.Z != 0 && !_body.Homed.Z && !isLift))
        {
            Record(IllegalMoveKind.Unhomed, asked);
        }
        else if (stoppedAtTheEnd)
        {
            Record(IllegalMoveKind.EndOfTravel, asked);
        }
    }

    /// <summary>Follows a move along its way.</summary>
    /// <param name="start">Where the nozzle was, Z with its play.</param>
    /// <param name="end">Where it is.</param>
    public void Follow(Axes3 start, Axes3 end)
    {
        var (dx, dy) = (end.X - start.X, end.Y - start.Y);
        var level = Math.Sqrt((dx * dx) + (dy * dy));
        var lowest = Math.Min(start.Z, end.Z) - _body.Expansion.NozzleMm;
        if (lowest > _highestPlateMm + ReachMm())
        {
            return;
        }

        if (level == 0)
        {
            FollowStraightDown(start, end);
        }
        else
        {
            FollowLevel(start, end, level);
        }
    }

    private double ReachMm() =>
        (_body.Probe.HangsOut ? _pinReachMm : 0) + (_scenario.Bed.Clips.IsEmpty ? 0 : _scenario.Bed.ClipHeightMm);

    private void FollowStraightDown(Axes3 start, Axes3 end)
    {
        var gap = _body.GapAt(end.X, end.Y, end.Z);
        LowestGapMm = Math.Min(LowestGapMm, gap);
        if (gap < 0 && end.Z < start.Z)
        {
            _scratches.Add(new Scratch(end.X, end.Y, -gap, 0, _body.Expansion.Seconds));
        }
    }

    private void FollowLevel(Axes3 start, Axes3 end, double level)
    {
        var samples = (int)Math.Ceiling(level / SampleMm);
        var deepest = new Scratch(0, 0, 0, 0, _body.Expansion.Seconds);
        var (inPlate, pinDragged, clip) = (0, false, false);
        for (var sample = 0; sample <= samples; sample++)
        {
            var at = Axes3.Between(start, end, (double)sample / samples);
            var gap = _body.GapAt(at.X, at.Y, at.Z);
            LowestGapMm = Math.Min(LowestGapMm, gap);
            clip |= HitsClip(at.X, at.Y, gap);
            inPlate += gap < 0 ? 1 : 0;
            deepest = -gap > deepest.DepthMm ? deepest with { X = at.X, Y = at.Y, DepthMm = -gap } : deepest;
            if (_body.Probe.HangsOut)
            {
                var (x, y) = (at.X + _scenario.Probe.OffsetX, at.Y + _scenario.Probe.OffsetY);
                var underPin = at.Z - _pinReachMm - _body.PlateAt(x, y);
                pinDragged |= underPin < 0 && x >= 0 && x <= _scenario.Bed.WidthMm && y >= 0 && y <= _scenario.Bed.DepthMm;
                clip |= HitsClip(x, y, underPin);
            }
        }

        Record(deepest with { LengthMm = level * inPlate / (samples + 1) }, pinDragged, clip, end - start);
    }

    private bool HitsClip(double x, double y, double gap)
    {
        var height = _body.ClipAt(x, y);
        return height > 0 && gap < height;
    }

    private void Record(Scratch scratch, bool pinDragged, bool clip, Axes3 move)
    {
        if (scratch.DepthMm > 0)
        {
            _scratches.Add(scratch);
        }

        if (pinDragged)
        {
            Record(IllegalMoveKind.PinDragged, move);
        }

        if (clip)
        {
            Record(IllegalMoveKind.Clip, move);
        }
    }

    private void Record(IllegalMoveKind kind, Axes3 move) =>
        _illegalMoves.Add(new IllegalMove(kind, move.X, move.Y, move.Z, _body.Expansion.Seconds));

    private static double HighestPlate(BedScenario bed, BedShape shape)
    {
        const int Nodes = 60;
        var highest = double.NegativeInfinity;
        for (var node = 0; node < (Nodes + 1) * (Nodes + 1); node++)
        {
            var (column, row) = (node % (Nodes + 1), node / (Nodes + 1));
            highest = Math.Max(highest, shape.HeightAt(bed.WidthMm * column / Nodes, bed.DepthMm * row / Nodes));
        }

        return highest;
    }
}
