using ProbeRunner.Metrology.Results;
using ProbeRunner.Metrology.Series;

namespace ProbeRunner.Metrology.Budgets;

/// <summary>One line of an uncertainty budget: an input quantity with what is known about it (JCGM 100:2008, 4 and 5).</summary>
/// <param name="Name">What people call the quantity; unique within a budget.</param>
/// <param name="Estimate">Its best estimate, in its own unit.</param>
/// <param name="StandardUncertainty">Its standard uncertainty, in its own unit, 0 or more.</param>
public sealed record Contribution(string Name, double Estimate, double StandardUncertainty)
{
    /// <summary>Change of the result for a unit change of this quantity (result's unit per own unit); 1 unless said otherwise.</summary>
    public double Sensitivity { get; init; } = 1;

    /// <summary>Degrees of freedom of the standard uncertainty, 1 or more; null when it is taken as known exactly.</summary>
    public double? DegreesOfFreedom { get; init; }

    /// <summary>A type B contribution: the standard deviation of the distribution assigned to the quantity (JCGM 100:2008, 4.3).</summary>
    public static Answer<Contribution> FromDistribution(string name, InputDistribution distribution)
    {
        ArgumentNullException.ThrowIfNull(distribution);
        return distribution.Check() is { } wrong
            ? wrong
            : new Contribution(name, distribution.Centre, distribution.StandardDeviation);
    }

    /// <summary>A type A contribution: the mean of repeated readings with its standard error (JCGM 100:2008, 4.2.3), n - 1 degrees of freedom.</summary>
    /// <param name="name">What people call the quantity.</param>
    /// <param name="readings">At least two readings taken under the same conditions, independent of each other.</param>
    public static Answer<Contribution> FromReadings(string name, IReadOnlyList<double> readings)
    {
        if (Finite.Check(readings, 2, "A mean with its standard error") is { } wrong)
        {
            return wrong;
        }

        double standardError = Moments.StandardDeviation(readings) / Math.Sqrt(readings.Count);
        return new Contribution(name, Moments.Mean(readings), standardError) { DegreesOfFreedom = readings.Count - 1 };
    }

    /// <summary>
    /// Degrees of freedom that say how far an estimated standard uncertainty is itself to be trusted (JCGM 100:2008, G.3):
    /// half the inverse square of its relative uncertainty, so 0.25 ("good to a quarter") gives 8.
    /// </summary>
    /// <param name="relativeUncertainty">Relative uncertainty of the standard uncertainty, above 0, at most 0.7 (1 degree of freedom).</param>
    public static Answer<double> DegreesOfFreedomFromReliability(double relativeUncertainty) =>
        relativeUncertainty > 0 && relativeUncertainty <= Math.Sqrt(0.5)
            ? 0.5 / (relativeUncertainty * relativeUncertainty)
            : Reason.OutOfRange("The relative uncertainty of a standard uncertainty must be above 0 and at most 0.7.");

    /// <summary>The reason why this contribution can't enter a budget; null when it can.</summary>
    internal Reason? Check()
    {
        if (string.IsNullOrWhiteSpace(Name))
        {
            return Reason.OutOfRange("A contribution needs a name.");
        }

        if (!double.IsFinite(Estimate) || !double.IsFinite(StandardUncertainty) || !double.IsFinite(Sensitivity))
        {
            return new Reason(RefusalKind.NotFinite, $"Contribution \"{Name}\" has a value, uncertainty or sensitivity that is not a finite number.");
        }

        if (StandardUncertainty < 0)
        {
            return Reason.OutOfRange($"Contribution \"{Name}\" has a negative standard uncertainty; 0 or more is needed.");
        }

        return DegreesOfFreedom is { } freedom && !(freedom >= 1 && double.IsFinite(freedom))
            ? Reason.OutOfRange($"Contribution \"{Name}\" needs 1 or more degrees of freedom, or none stated.")
            : null;
    }
}
