using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;

namespace ProbeRunner.Procedures.Conclusions;

/// <summary>One place touched while bed and nozzle warmed.</summary>
/// <param name="Place">Where.</param>
/// <param name="Points">Every touch with its temperatures, in order.</param>
/// <param name="HotAtSeconds">When both heaters had reached their targets, s since they were switched on.</param>
/// <param name="MovedMm">From the first touch to the height that is approached; positive is up.</param>
/// <param name="EndHeightMm">The height that is approached, same datum as the touches.</param>
/// <param name="EndStandardUncertaintyMm">Its standard uncertainty.</param>
/// <param name="Curve">The fitted settling; null where the touches bend towards no end.</param>
/// <param name="ToleranceMm">Remaining movement that doesn't matter.</param>
/// <param name="StillMovesProbability">That more than the tolerance remained at the end.</param>
/// <param name="Settled">Whether it was settled, at 95 %.</param>
/// <param name="WaitNextTimeMinutes">Whole minutes to wait from hot on, next time: 95 % limit; null when not settled.</param>
/// <param name="Conditions">Temperatures, in words.</param>
public sealed record WarmUpConclusion(
    StepVerdict Verdict,
    ImmutableArray<Finding> Findings,
    BedPoint Place,
    ImmutableArray<WarmUpPoint> Points,
    double HotAtSeconds,
    double MovedMm,
    double EndHeightMm,
    double EndStandardUncertaintyMm,
    SettlingCurve? Curve,
    double ToleranceMm,
    double StillMovesProbability,
    bool Settled,
    int? WaitNextTimeMinutes,
    string Conditions) : StepConclusion(Verdict, Findings);

/// <summary>One touch of a warm-up.</summary>
/// <param name="Seconds">Since the heaters were switched on.</param>
/// <param name="Counted">Whether both heaters stood at their targets, so that it tells of settling.</param>
public readonly record struct WarmUpPoint(double Seconds, double HeightMm, double NozzleCelsius, double BedCelsius, bool Counted);

/// <summary>height = end + amplitude exp(-(seconds - from) / time constant), the last with its 95 % limits.</summary>
public sealed record SettlingCurve(
    double EndMm, double AmplitudeMm, double FromSeconds, double TimeConstantSeconds, double TimeConstantLowerSeconds, double TimeConstantUpperSeconds);
