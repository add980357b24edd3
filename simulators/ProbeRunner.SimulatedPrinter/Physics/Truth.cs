using ProbeRunner.SimulatedPrinter.Controller;

namespace ProbeRunner.SimulatedPrinter.Physics;

/// <summary>
/// What is really so, behind a simulated printer. For tests in the same process only: nothing of it goes over the wire or the
/// senses channel. Read it while nothing moves.
/// </summary>
public sealed class Truth
{
    private readonly PrinterBody _body;
    private readonly SimulatedController _controller;

    internal Truth(PrinterBody body, SimulatedController controller) => (_body, _controller) = (body, controller);

    /// <summary>The plate's height above a flat, level, cold one at a place in bed coordinates, now, mm.</summary>
    public double BedHeightAt(double x, double y) => _body.PlateAt(x, y);

    /// <summary>
    /// The nozzle's Z at a touch minus its Z when it touches the plate at the same bed point, now, without noise, mm: minus the right
    /// stored Z offset for that point.
    /// </summary>
    public double TriggerDistanceAt(double x, double y)
    {
        var (offsetX, offsetY) = _body.ProbeOffset;
        return _body.TrueTriggerZ(x - offsetX, y - offsetY) - _body.TrueContactZ(x, y);
    }

    /// <summary>
    /// The nozzle's Z, in the controller's coordinates of the present epoch, at a touch of a bed point without noise and steps,
    /// stored offset excluded, mm: what a perfect reading would be.
    /// </summary>
    public double ReadingAt(double x, double y)
    {
        var (offsetX, offsetY) = _body.ProbeOffset;
        return _body.TrueTriggerZ(x - offsetX, y - offsetY) - _body.DatumZ;
    }

    /// <summary>The controller's Z at which the nozzle, coming from above, touches the plate at a place, now, correction off, mm.</summary>
    public double ContactHeightAt(double x, double y) => _body.TrueContactZ(x, y) - _body.DatumZ;

    /// <summary>From the nozzle's tip to the plate under it, now, mm; negative in the plate.</summary>
    public double GapMm => _body.GapMm;

    /// <summary>The smallest gap that ever was, mm; infinite while the nozzle was never near.</summary>
    public double LowestGapMm => _body.Watch.LowestGapMm;

    /// <summary>The datum's error of each homing of Z, in order, mm: how much lower all readings of that epoch are than after a homing without noise.</summary>
    public IReadOnlyList<double> DatumErrorsMm => _body.DatumErrorsMm;

    /// <summary>Homings of Z so far.</summary>
    public int DatumEpoch => _body.DatumErrorsMm.Count;

    /// <summary>Every touch, homing's included, in order; the first <see cref="TouchesKept"/> of them.</summary>
    public IReadOnlyList<TrueTouch> Touches => _body.Touches;

    /// <summary>How many triggers there were, kept or not.</summary>
    public long TouchCount => _body.Probe.Touches;

    /// <summary>How many touches are kept; 200,000 unless set. 0 for a night that must need no memory.</summary>
    public int TouchesKept
    {
        get => _body.TouchesKept;
        set => _body.TouchesKept = value;
    }

    /// <summary>Every time the nozzle was driven into the plate.</summary>
    public IReadOnlyList<Scratch> Scratches => _body.Watch.Scratches;

    /// <summary>Moves on unhomed axes, against the end of travel, into clips, with the pin dragged.</summary>
    public IReadOnlyList<IllegalMove> IllegalMoves => _body.Watch.IllegalMoves;

    /// <summary>Working time of the machine, s.</summary>
    public double WorkingSeconds => _body.Expansion.Seconds;

    /// <summary>The nozzle's place in bed coordinates, mm.</summary>
    public (double X, double Y) Nozzle => (_body.Motor.X, _body.Motor.Y);

    /// <summary>How much higher than the left one the gantry's right end stands, over the bed's width, mm.</summary>
    public double GantryDifferenceMm => _body.GantryDifferenceMm;

    /// <summary>Whether the pin is out.</summary>
    public bool PinExtended => _body.Probe.IsExtended;

    /// <summary>Which axes the controller knows the place of.</summary>
    public (bool X, bool Y, bool Z) Homed => _body.Homed;

    /// <summary>Heater targets, degC; 0 is off.</summary>
    public (double Nozzle, double Bed) HeaterTargets => (_controller.Heaters.NozzleTarget, _controller.Heaters.BedTarget);

    /// <summary>The live Z offset of the controller, mm.</summary>
    public double LiveOffsetZ => _controller.State.Live.OffsetZ;

    /// <summary>The Z offset that a power cut leaves, mm.</summary>
    public double StoredOffsetZ => _controller.State.Stored.OffsetZ;

    /// <summary>Whether mesh correction is on.</summary>
    public bool MeshCorrectionOn => _controller.State.MeshOn;

    /// <summary>Whether the controller's own limits are on.</summary>
    public bool SoftLimitsOn => _controller.State.SoftLimitsOn;

    /// <summary>How fast the controller lets Z go at most, now, mm/s.</summary>
    public double HighestZFeed => _controller.State.Live.MaxFeedZ;

    /// <summary>After how long without a motion the controller lets its motors go, now, s; 0 for never.</summary>
    public double IdleReleaseSeconds => _controller.State.Live.IdleReleaseSeconds;

    /// <summary>The live mesh, row by row, front row first, mm.</summary>
    public IReadOnlyList<double> Mesh => _controller.State.Live.Mesh;

    /// <summary>The mesh that a power cut leaves, row by row, front row first, mm.</summary>
    public IReadOnlyList<double> StoredMesh => _controller.State.Stored.Mesh;

    /// <summary>Whether the controller was halted and waits for a reset.</summary>
    public bool IsHalted => _controller.IsHalted;
}
