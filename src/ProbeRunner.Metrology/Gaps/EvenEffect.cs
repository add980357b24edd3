using ProbeRunner.Metrology.Budgets;

namespace ProbeRunner.Metrology.Gaps;

/// <summary>An effect that is the same everywhere on the bed.</summary>
/// <param name="Term">What it does.</param>
public sealed record EvenEffect(GapTerm Term) : IGapEffect
{
    /// <inheritdoc/>
    public GapTerm At(double xMm, double yMm) => Term;

    /// <summary>The stored Z offset: how well the paper threshold was found.</summary>
    /// <param name="standardUncertaintyMm">Of the height at which the paper drags.</param>
    /// <param name="degreesOfFreedom">Null when the estimator states none.</param>
    public static EvenEffect ZOffset(double standardUncertaintyMm, double? degreesOfFreedom = null) =>
        new(new GapTerm("Z offset", 0, standardUncertaintyMm, degreesOfFreedom));

    /// <summary>The probe: scatter of the touches that the offset rests on.</summary>
    /// <param name="sigmaMm">Standard deviation of one touch.</param>
    /// <param name="touches">How many were averaged, 1 or more.</param>
    /// <param name="degreesOfFreedom">Of the standard deviation.</param>
    public static EvenEffect Probe(double sigmaMm, int touches, double? degreesOfFreedom = null)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(touches, 1);
        return new(new GapTerm("probe", 0, sigmaMm / Math.Sqrt(touches), degreesOfFreedom));
    }

    /// <summary>The datum: each homing finds Z = 0 anew; the print is laid after one homing, the offset was found after another.</summary>
    /// <param name="sigmaMm">Standard deviation of one homing.</param>
    /// <param name="homingsOfOffset">How many homings the offset was averaged over, 1 or more.</param>
    /// <param name="degreesOfFreedom">Of the standard deviation.</param>
    public static EvenEffect Datum(double sigmaMm, int homingsOfOffset = 1, double? degreesOfFreedom = null)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(homingsOfOffset, 1);
        return new(new GapTerm("datum", 0, sigmaMm * Math.Sqrt(1 + (1.0 / homingsOfOffset)), degreesOfFreedom));
    }

    /// <summary>The paper: its thickness is known within limits only (rectangular).</summary>
    /// <param name="halfWidthMm">How far the thickness may be off either way; 0.01 for a sheet not measured.</param>
    public static EvenEffect Paper(double halfWidthMm) => Within("paper", new RectangularDistribution(0, halfWidthMm));

    /// <summary>Backlash: the layer may be laid after an upward or a downward move (rectangular).</summary>
    /// <param name="backlashMm">Lost motion at reversal, from end to end.</param>
    public static EvenEffect Backlash(double backlashMm) => Within("backlash", new RectangularDistribution(0, backlashMm / 2));

    /// <summary>The step of the Z drive: a height is only met to the nearest one (rectangular).</summary>
    /// <param name="stepMm">Height of one step.</param>
    public static EvenEffect ZStep(double stepMm) => Within("Z step", new RectangularDistribution(0, stepMm / 2));

    private static EvenEffect Within(string name, InputDistribution distribution) =>
        new(new GapTerm(name, distribution.Centre, distribution.StandardDeviation));
}
