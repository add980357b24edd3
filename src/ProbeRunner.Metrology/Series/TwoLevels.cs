using ProbeRunner.Metrology.Distributions;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Series;

/// <summary>Two heights between which readings click, as with a loose bracket: a mixture of two normals of one sigma against one normal.</summary>
/// <param name="LowerLevel">The lower height.</param>
/// <param name="UpperLevel">The upper height.</param>
/// <param name="ShareUpper">Share of readings at the upper height, 0 to 1.</param>
/// <param name="Sigma">Scatter about either height.</param>
/// <param name="Switches">Changes from one to the other along the series.</param>
/// <param name="PValue">Of one level being enough: 2 x the gain in log-likelihood, corrected after Wolfe 1971, by chi-square with 2 degrees of freedom; approximate.</param>
public sealed record TwoLevels(double LowerLevel, double UpperLevel, double ShareUpper, double Sigma, int Switches, double PValue)
{
    private const int Passes = 100;

    /// <summary>Distance of the levels.</summary>
    public double Distance => UpperLevel - LowerLevel;

    /// <summary>Fits by expectation and maximisation from several splits; ten readings that differ, or more.</summary>
    public static Answer<TwoLevels> Of(IReadOnlyList<double> readings)
    {
        if (Finite.Check(readings, 10, "A search for two levels") is { } why)
        {
            return why;
        }

        double[] sorted = [.. readings.Order()];
        int n = sorted.Length;
        double sd = Math.Sqrt(Moments.SquaredDeviations(readings) / n);
        if (!(sd > 0) || !double.IsFinite(sd))
        {
            return Reason.Constant("A search for two levels");
        }

        // Readings on a comb, or a few equal ones, must not let sigma collapse.
        double floor = sd / 50;
        Fit best = new[] { 0.1, 0.25, 0.5, 0.75, 0.9 }
            .Select(share => Maximise(sorted, Math.Clamp((int)(share * n), 2, n - 2), floor))
            .MaxBy(fit => fit.LogLikelihood)!;
        double single = n * (-Math.Log(sd) - 0.5 - HalfLogTwoPi);
        double corrected = 2 * (n - 3.0) / n * Math.Max(0, best.LogLikelihood - single);
        double border = Border(best);
        bool[] upper = [.. readings.Select(r => r > border)];
        int switches = Enumerable.Range(1, n - 1).Count(i => upper[i] != upper[i - 1]);
        return new TwoLevels(best.Low, best.High, best.Share, best.Sigma, switches, ChiSquare.Above(corrected, 2));
    }

    private const double HalfLogTwoPi = 0.9189385332046727;

    /// <summary>Where a reading is as likely to be of one level as of the other.</summary>
    private static double Border(Fit fit)
    {
        double gap = fit.High - fit.Low;
        double middle = (fit.High + fit.Low) / 2;
        return gap > 0 ? middle + (fit.Sigma * fit.Sigma * Math.Log((1 - fit.Share) / fit.Share) / gap) : middle;
    }

    private static Fit Maximise(double[] sorted, int split, double floor)
    {
        int n = sorted.Length;
        var fit = new Fit(Moments.Mean(sorted[..split]), Moments.Mean(sorted[split..]), 1 - ((double)split / n), Spread(), double.NegativeInfinity);
        var upper = new double[n];
        for (int pass = 0; pass < Passes; pass++)
        {
            double likelihood = 0;
            double weight = 0;
            for (int i = 0; i < n; i++)
            {
                double a = Math.Log(1 - fit.Share) - (0.5 * Square((sorted[i] - fit.Low) / fit.Sigma));
                double b = Math.Log(fit.Share) - (0.5 * Square((sorted[i] - fit.High) / fit.Sigma));
                double larger = Math.Max(a, b);
                double both = Math.Exp(a - larger) + Math.Exp(b - larger);
                upper[i] = Math.Exp(b - larger) / both;
                weight += upper[i];
                likelihood += larger + Math.Log(both) - Math.Log(fit.Sigma) - HalfLogTwoPi;
            }

            if (likelihood - fit.LogLikelihood < 1e-9 * n || weight < 0.5 || n - weight < 0.5)
            {
                return fit with { LogLikelihood = Math.Max(likelihood, fit.LogLikelihood) };
            }

            double high = Moments.Sum(n, i => upper[i] * sorted[i]) / weight;
            double low = Moments.Sum(n, i => (1 - upper[i]) * sorted[i]) / (n - weight);
            double squares = Moments.Sum(n, i => (upper[i] * Square(sorted[i] - high)) + ((1 - upper[i]) * Square(sorted[i] - low)));
            fit = new Fit(low, high, weight / n, Math.Max(floor, Math.Sqrt(squares / n)), likelihood);
        }

        return fit;

        double Spread() => Math.Max(floor, Math.Sqrt((Moments.SquaredDeviations(sorted[..split]) + Moments.SquaredDeviations(sorted[split..])) / n));
    }

    private static double Square(double x) => x * x;

    private sealed record Fit(double Low, double High, double Share, double Sigma, double LogLikelihood);
}
