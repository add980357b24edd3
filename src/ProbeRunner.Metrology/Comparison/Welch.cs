using ProbeRunner.Metrology.Results;
using ProbeRunner.Metrology.Series;

namespace ProbeRunner.Metrology.Comparison;

/// <summary>Difference of two means whose sigmas need not agree.</summary>
internal sealed record Welch(double Difference, double StandardError, double DegreesOfFreedom)
{
    internal static Answer<Welch> Of(IReadOnlyList<double> first, IReadOnlyList<double> second)
    {
        if ((Finite.Check(first, 2, "A comparison") ?? Finite.Check(second, 2, "A comparison")) is { } why)
        {
            return why;
        }

        double a = Moments.SquaredDeviations(first) / (first.Count - 1) / first.Count;
        double b = Moments.SquaredDeviations(second) / (second.Count - 1) / second.Count;
        if (!(a > 0) || !(b > 0))
        {
            return Reason.Constant("A comparison");
        }

        double freedom = (a + b) * (a + b) / ((a * a / (first.Count - 1)) + (b * b / (second.Count - 1)));
        double difference = Moments.Mean(second) - Moments.Mean(first);
        return double.IsFinite(freedom) && double.IsFinite(difference)
            ? new Welch(difference, Math.Sqrt(a + b), freedom)
            : Reason.OutOfRange("The readings are too large or too close to be compared.");
    }
}
