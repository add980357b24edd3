using ProbeRunner.Metrology.Results;
using ProbeRunner.Metrology.Series;

namespace ProbeRunner.Metrology.Budgets;

/// <summary>Several quantities estimated together: values, standard uncertainties and how their errors go together.</summary>
public sealed class JointEstimates
{
    private readonly double[,] covariance;

    private JointEstimates(double[] values, double[,] covariance, double? degreesOfFreedom)
    {
        Values = values;
        this.covariance = covariance;
        StandardUncertainties = [.. values.Select((_, i) => Math.Sqrt(covariance[i, i]))];
        DegreesOfFreedom = degreesOfFreedom;
    }

    /// <summary>The estimates.</summary>
    public IReadOnlyList<double> Values { get; }

    /// <summary>Their standard uncertainties.</summary>
    public IReadOnlyList<double> StandardUncertainties { get; }

    /// <summary>Degrees of freedom common to all of them; null when unlimited.</summary>
    public double? DegreesOfFreedom { get; }

    /// <summary>Covariance of two of them.</summary>
    public double Covariance(int first, int second) => covariance[first, second];

    /// <summary>Correlation coefficient of two of them; 0 where one has no uncertainty.</summary>
    public double Correlation(int first, int second)
    {
        double scale = StandardUncertainties[first] * StandardUncertainties[second];
        return scale > 0 ? Math.Clamp(covariance[first, second] / scale, -1, 1) : 0;
    }

    /// <summary>
    /// Means of quantities that were observed at the same times, with the covariances of those means
    /// (JCGM 100:2008, 5.2.3, formula 17; example H.2), n - 1 degrees of freedom.
    /// </summary>
    /// <param name="observations">For each quantity its readings; the same number for all, at least two.</param>
    public static Answer<JointEstimates> FromSimultaneous(IReadOnlyList<IReadOnlyList<double>> observations)
    {
        ArgumentNullException.ThrowIfNull(observations);
        if (observations.Count == 0)
        {
            return Reason.TooFew("A joint estimate", 1, 0);
        }

        if (observations.Select(readings => Finite.Check(readings, 2, "A mean with its standard error"))
            .FirstOrDefault(wrong => wrong is not null) is { } reason)
        {
            return reason;
        }

        int count = observations[0].Count;
        if (observations.Any(readings => readings.Count != count))
        {
            return Reason.OutOfRange("Simultaneous observations need the same number of readings for every quantity.");
        }

        double[] means = [.. observations.Select(Moments.Mean)];
        var covariance = new double[means.Length, means.Length];
        for (int i = 0; i < means.Length; i++)
        {
            for (int j = 0; j < means.Length; j++)
            {
                double products = Enumerable.Range(0, count)
                    .Sum(k => (observations[i][k] - means[i]) * (observations[j][k] - means[j]));
                covariance[i, j] = products / (count - 1) / count;
            }
        }

        return Checked(means, covariance, count - 1);
    }

    /// <summary>The results of several models of these quantities, with the covariances between the results (JCGM 100:2008, H.2.3).</summary>
    public Answer<JointEstimates> Through(IReadOnlyList<MeasurementModel> models)
    {
        ArgumentNullException.ThrowIfNull(models);
        double[] at = [.. Values];
        double[] results = [.. models.Select(model => model(at))];
        double[][] slopes = [.. models.Select(model =>
            at.Select((_, i) => Derivatives.First(model, at, i, StandardUncertainties[i])).ToArray())];
        var propagated = new double[results.Length, results.Length];
        for (int a = 0; a < results.Length; a++)
        {
            for (int b = 0; b < results.Length; b++)
            {
                for (int i = 0; i < at.Length; i++)
                {
                    for (int j = 0; j < at.Length; j++)
                    {
                        propagated[a, b] += slopes[a][i] * slopes[b][j] * covariance[i, j];
                    }
                }
            }

            propagated[a, a] = Math.Max(0, propagated[a, a]);
        }

        return Checked(results, propagated, DegreesOfFreedom);
    }

    /// <summary>Estimates whose numbers are known to be right in shape; refused when one is not finite.</summary>
    internal static Answer<JointEstimates> Checked(double[] values, double[,] covariance, double? degreesOfFreedom) =>
        values.Concat(covariance.Cast<double>()).All(double.IsFinite)
            ? new JointEstimates(values, covariance, degreesOfFreedom)
            : new Reason(RefusalKind.NotFinite, "The result or its covariance is not a finite number.");
}
