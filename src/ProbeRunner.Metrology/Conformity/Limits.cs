using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Conformity;

/// <summary>An interval of permitted values: a tolerance interval, or an acceptance interval for readings (JCGM 106:2012, 3.3).</summary>
/// <param name="Lower">Lowest permitted value; null when there is none.</param>
/// <param name="Upper">Highest permitted value; null when there is none.</param>
public readonly record struct Limits(double? Lower, double? Upper)
{
    /// <summary>Everything up to <paramref name="upper"/>.</summary>
    public static Limits Below(double upper) => new(null, upper);

    /// <summary>Everything from <paramref name="lower"/> on.</summary>
    public static Limits Above(double lower) => new(lower, null);

    /// <summary>Everything from <paramref name="lower"/> to <paramref name="upper"/>.</summary>
    public static Limits Between(double lower, double upper) => new(lower, upper);

    /// <summary>Probability that a quantity with the given distribution function lies within.</summary>
    internal double ProbabilityWithin(Func<double, double> cumulative) => Math.Clamp(
        (Upper is { } upper ? cumulative(upper) : 1) - (Lower is { } lower ? cumulative(lower) : 0), 0, 1);

    /// <summary>These limits, drawn in by a guard band at each end; a negative one widens them.</summary>
    internal Limits Inwards(double guard) => new(Lower + guard, Upper - guard);

    /// <summary>The reason why these are no limits; null when they are.</summary>
    internal Reason? Check(string what)
    {
        if (Lower is null && Upper is null)
        {
            return Reason.OutOfRange($"{what} needs at least one limit.");
        }

        return !double.IsFinite(Lower ?? 0) || !double.IsFinite(Upper ?? 0) || Lower >= Upper
            ? Reason.OutOfRange($"{what} needs finite limits, the lower one below the upper one.")
            : null;
    }
}
