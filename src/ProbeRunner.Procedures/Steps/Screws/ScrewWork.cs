using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Metrology.Screws;
using ProbeRunner.Metrology.Series;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Events;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Steps.Screws;

/// <summary>The work at the screws: measure, turn, and keep the tally of both. One object for one step; a replay builds it anew from the facts.</summary>
internal sealed class ScrewWork(
    StepContext context, ScrewParameters parameters, ScrewPlaces places, TimeSpan? idleRelease, ImmutableArray<AdjustingScrew> screws)
{
    private const string Turned = "turned";

    /// <summary>The controller counts from its last motion, and by its own clock: its idle time is taken to be over a little early.</summary>
    private const double ShareOfIdleTrusted = 0.9;

    /// <summary>Times that every place is touched when the first touches leave open whether the bed is level enough.</summary>
    private const int MostPasses = 4;
    private readonly double[] _turns = new double[screws.Length];
    private readonly double[] _sinceMeasured = new double[screws.Length];
    private readonly List<Finding> _findings = [];
    private TimeSpan? _turningSince;

    /// <summary>The screws, as far as is known now.</summary>
    public ImmutableArray<AdjustingScrew> Screws { get; private set; } = screws;

    /// <summary>Each measuring, with the turns that led to it.</summary>
    public List<ScrewRound> Rounds { get; } = [];

    /// <summary>What was noticed while turning.</summary>
    public IReadOnlyList<Finding> Findings => _findings;

    /// <summary>Turns of each screw since it was found, clockwise seen from above positive.</summary>
    public IReadOnlyList<double> Turns => _turns;

    /// <summary>Homes and touches near each screw and in the middle.</summary>
    public async Task<BedLevel> MeasureAsync(string name)
    {
        bool released = false;
        if (_turningSince is { } since)
        {
            TimeSpan turning = await context.DoAsync(new ReadRunClock()) - since;
            released = idleRelease is { } limit && turning >= limit * ShareOfIdleTrusted;
            await context.HandsClearAsync(PromptIds.ScrewsHandsClear, "The machine homes and touches near each screw again. Paper out, hands clear of bed and knobs?");
        }

        if (released)
        {
            context.Warn("The turning took longer than the controller holds its motors: they may have let go. The nozzle is lifted and all axes are homed from the start.");
        }

        bool turned = _turningSince is not null;
        BedLevel level = await context.InSectionAsync(
            $"measure {name}", Retake.WhenDatumLost, (places.AtScrews.Length + 1) * parameters.Touches, () => TouchAllAsync(turned, released));
        _turningSince = null;
        Rounds.Add(new ScrewRound(
            name,
            [.. Screws.Select((screw, index) => new ScrewState(screw.Name, new BedPoint(screw.X, screw.Y), level.AtScrews[index], _sinceMeasured[index]))],
            level.BendMm, level.TwistMm));
        Array.Clear(_sinceMeasured);
        ImmutableArray<double> turns = level.IsLevel(parameters.ToleranceMm) ? [.. new double[Screws.Length]] : [.. Plan(level, new double[Screws.Length])];
        context.Show(at => new ScrewsMeasured(at, context.StepName, Rounds[^1], turns, parameters.ToleranceMm));
        return level;
    }

    /// <summary>Turns that bring a bed level, each screw's, clockwise seen from above positive.</summary>
    /// <param name="level">The bed as measured.</param>
    /// <param name="since">Turns made since then, to be taken off.</param>
    public double[] Plan(BedLevel level, IReadOnlyList<double> since) =>
        [.. ScrewLevelling.Plan(level.Plane, Screws, smallestTurn: TurnWords.Finest).Value.Turns.Select((turn, index) => turn.RoundedTurns - since[index])];

    /// <summary>Has the person turn each screw that needs it; false when the person calls it off.</summary>
    public async Task<bool> TurnAllAsync(double[] turns)
    {
        for (int index = 0; index < Screws.Length; index++)
        {
            if (Math.Abs(turns[index]) > TurnWords.Finest / 2 && !await TurnAsync(index, turns[index], string.Empty))
            {
                return false;
            }
        }

        return true;
    }

    /// <summary>Has the person turn one screw; false when the person calls it off, or when its spring has no travel left.</summary>
    public async Task<bool> TurnAsync(int index, double turns, string preface)
    {
        AdjustingScrew screw = Screws[index];
        double ends = screw.RiseMm(_turns[index] + turns);
        if (Math.Abs(ends) > parameters.SpringTravelMm)
        {
            _findings.Add(ScrewFindings.OutOfSpring(screw.Name, ends, parameters.SpringTravelMm));
            return false;
        }

        _turningSince ??= await context.DoAsync(new ReadRunClock());
        Answer answer = await context.AskAsync(Prompts.Choose(
            PromptIds.ScrewsTurn,
            preface + TurnWords.Instruction(screw.Name, screw.RiseMm(turns), turns),
            "Turning a screw moves that corner of the bed. When you have turned, the machine measures again; a wrong turn is seen there and put right.",
            ("call-off", "not turned, end this step"),
            (Turned, "turned as said")) with
        { About = FormattableString.Invariant($"{screw.Name} {turns:0.######}") });
        if (answer.Value != Turned)
        {
            return false;
        }

        _turns[index] += turns;
        _sinceMeasured[index] += turns;
        return true;
    }

    /// <summary>How far the bed rose at one screw, against the mean of the others, mm: homing moves the zero with the bed.</summary>
    public static double RiseAgainstOthers(int index, BedLevel before, BedLevel after)
    {
        double Against(BedLevel level) => level.Heights[index] - level.Heights.Where((_, other) => other != index).Average();
        return Against(after) - Against(before);
    }

    /// <summary>Takes the screws to work the other way round than the profile says.</summary>
    public void TurnRound() => Screws = [.. Screws.Select(screw => screw with { ClockwiseRaises = !screw.ClockwiseRaises })];

    private async Task<BedLevel> TouchAllAsync(bool turned, bool released)
    {
        if (released)
        {
            await context.DoAsync(new ForgetHoming(Axes.All));
            await context.DoAsync(new LiftUnhomed(context.Profile.Travel.FirstLiftMm));
        }

        if (turned)
        {
            await context.DoAsync(new HomeAxes(Axes.XY)); // a hand at the knobs may have pushed bed or head
            await context.DoAsync(new HomeAxes(Axes.Z));
        }

        var touches = places.AtScrews.Append(places.Middle).Select(place => (Place: place, Heights: new List<double>())).ToList();
        BedLevel level;
        int passes = 0;
        do
        {
            foreach ((BedPoint place, List<double> heights) in touches)
            {
                for (int repeat = 1; repeat <= parameters.Touches; repeat++)
                {
                    heights.Add((await context.DoAsync(new TouchAt(place, heights.Count + 1))).Z);
                }
            }

            level = Level([.. touches.Select(touched => touched.Heights)]);
        }
        while (++passes < MostPasses && level.IsDoubtful(parameters.ToleranceMm));

        await context.DoAsync(new LiftToClearance());
        return level;
    }

    private BedLevel Level(List<double>[] touches)
    {
        double[] means = [.. touches.Select(heights => heights.Average())];
        double usual = context.EarlierOrNull<SeriesConclusion>()?.SigmaMm ?? context.Profile.Probe.GoodSigmaMm;
        double here = parameters.Touches > 1 ? Math.Sqrt(touches.Average(heights => Math.Pow(SeriesSummary.Of(heights).Value.StandardDeviation, 2))) : 0;
        return BedLevel.Of(places, Screws, means[..^1], means[^1], Math.Max(usual, here) / Math.Sqrt(touches[0].Count));
    }
}
