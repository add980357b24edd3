using System.Collections.Immutable;

namespace ProbeRunner.Console.Screens.Pictures;

/// <summary>Height at one place while the machine warms.</summary>
/// <param name="Heights">Touches.</param>
/// <param name="Heat">Temperature reports.</param>
/// <param name="Fit">The settling as fitted; null before there is enough.</param>
/// <param name="ToleranceMm">What may remain of the movement for it to count as settled.</param>
internal sealed record WarmUpState(
    ImmutableArray<TimedHeight> Heights, ImmutableArray<TimedHeat> Heat, FittedSettling? Fit, double ToleranceMm) : PictureState
{
    /// <summary>Nothing measured yet.</summary>
    public static WarmUpState Empty { get; } = new([], [], null, 0.01);
}

/// <summary>A height with its time since the step began, s.</summary>
internal readonly record struct TimedHeight(double Seconds, double HeightMm);

/// <summary>Temperatures, degC, with their time since the step began, s.</summary>
internal readonly record struct TimedHeat(double Seconds, double NozzleCelsius, double BedCelsius);

/// <summary>Height = end + amplitude * exp(-t / constant), t in s since the step began.</summary>
/// <param name="EndMm">Where it settles.</param>
/// <param name="EndStandardErrorMm">How unsure that is.</param>
/// <param name="AmplitudeMm">How far from its end it is at 0.</param>
/// <param name="ConstantSeconds">Time constant; positive.</param>
/// <param name="SettledSeconds">When it is within tolerance for good.</param>
internal sealed record FittedSettling(double EndMm, double EndStandardErrorMm, double AmplitudeMm, double ConstantSeconds, double SettledSeconds)
{
    /// <summary>The height at a time.</summary>
    public double At(double seconds) => EndMm + (AmplitudeMm * Math.Exp(-seconds / ConstantSeconds));
}
