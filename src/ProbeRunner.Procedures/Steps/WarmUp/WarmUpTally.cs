using ProbeRunner.Machine.Heat;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Metrology.Settling;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Procedures.Steps.WarmUp;

/// <summary>The touches of a warm-up while it goes on, and what they say by now.</summary>
/// <param name="start">When the heaters were switched on.</param>
/// <param name="toleranceMm">Remaining movement that doesn't matter.</param>
/// <param name="stepMm">The machine's step of Z, finer than which nothing is measured.</param>
internal sealed class WarmUpTally(DateTimeOffset start, double toleranceMm, double stepMm)
{
    /// <summary>Risk that more than the tolerance remains when it is called settled.</summary>
    public const double Risk = 0.05;

    private const int Fewest = 10;

    /// <summary>How often in a row it must look settled: a single look may be luck.</summary>
    private const int SureLooks = 2;

    private int _sure;

    /// <summary>All touches in order.</summary>
    public List<WarmUpPoint> Points { get; } = [];

    /// <summary>The last temperatures.</summary>
    public Temperatures Heat { get; private set; }

    /// <summary>When both heaters stood at their targets, s; null until then.</summary>
    public double? HotAtSeconds { get; private set; }

    /// <summary>How long it has been hot; null until then.</summary>
    public TimeSpan? Hot => HotAtSeconds is { } hot ? TimeSpan.FromSeconds(Points[^1].Seconds - hot) : null;

    /// <summary>Whether no more than the tolerance remains, for certain and more than once.</summary>
    public bool IsSettled => _sure >= SureLooks;

    /// <summary>What the counted touches say; null while they are too few.</summary>
    public SettlingBelief? Belief { get; private set; }

    /// <summary>The touches that tell of settling: those since it was hot, at their temperature.</summary>
    public IEnumerable<WarmUpPoint> Counted => Points.Where(point => point.Counted);

    /// <summary>Time since the heaters were switched on.</summary>
    public TimeSpan Since(DateTimeOffset at) => at - start;

    /// <summary>Takes in a touch.</summary>
    public void Add(Reading reading, Temperatures heat, bool isHot)
    {
        double seconds = Since(reading.At).TotalSeconds;
        HotAtSeconds ??= isHot ? seconds : null;
        Points.Add(new WarmUpPoint(seconds, reading.Z, heat.NozzleCelsius, heat.BedCelsius, isHot));
        Heat = heat;
        WarmUpPoint[] counted = [.. Counted];
        if (!isHot || counted.Length < Fewest)
        {
            return;
        }

        Belief = SettlingBelief.Of(
            [.. counted.Select(point => point.Seconds)], [.. counted.Select(point => point.HeightMm)], new SettlingPrior(LeastSigmaMm: stepMm / Math.Sqrt(12))).OrElse(null);
        _sure = Belief?.StillMoves(seconds, toleranceMm) <= Risk ? _sure + 1 : 0;
    }
}
