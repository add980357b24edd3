using ProbeRunner.Metrology.Planes;

namespace ProbeRunner.Metrology.JointModel;

/// <summary>What is known of a bed before it is touched. The defaults suit desktop printers' beds; all lengths in mm.</summary>
public sealed record SurfaceModelOptions
{
    /// <summary>Standard deviation of one touch, from a series, mm; null when no series was taken.</summary>
    public double? RepeatabilityMm { get; init; }

    /// <summary>How well <see cref="RepeatabilityMm"/> is known, as a standard deviation of its logarithm: about 1/sqrt(2 (n - 1)) for n readings, plus what differs from place to place.</summary>
    public double RepeatabilityLogSd { get; init; } = 0.4;

    /// <summary>The bed's box; the readings' own when null. It sets the scale of the trend, not where the surface is known.</summary>
    public Box? Bed { get; init; }

    /// <summary>False when nothing can have drifted: the readings' times are then ignored.</summary>
    public bool MayDrift { get; init; } = true;

    /// <summary>Median of the length over which a bed's departures from its bow change, mm.</summary>
    public double LengthMedianMm { get; init; } = 45;

    /// <summary>Standard deviation of the logarithm of that length.</summary>
    public double LengthLogSd { get; init; } = 0.8;

    /// <summary>Median size of the departures, as a standard deviation, mm.</summary>
    public double DepartureMedianMm { get; init; } = 0.04;

    /// <summary>Standard deviation of the logarithm of that size.</summary>
    public double DepartureLogSd { get; init; } = 1.0;

    /// <summary>
    /// Standard deviation over the bed of local bumps, mm: up to three of up to 0.15 mm and 20 to 60 mm wide amount to about this.
    /// A few readings that agree with each other do not speak against a bump between them.
    /// </summary>
    public double BumpMm { get; init; } = 0.008;

    /// <summary>Length over which such bumps change, mm.</summary>
    public double BumpLengthMm { get; init; } = 20;

    /// <summary>Standard deviation of structure too fine to resolve that is allowed for at least, mm: ripple of 0.008 mm from crest to trough.</summary>
    public double FineStructureMm { get; init; } = 0.003;

    /// <summary>Median size of a drift over the whole capture, as a standard deviation at its end, mm.</summary>
    public double DriftMedianMm { get; init; } = 0.015;

    /// <summary>Probability, before any reading, that nothing drifts.</summary>
    public double NoDriftProbability { get; init; } = 0.5;
}
