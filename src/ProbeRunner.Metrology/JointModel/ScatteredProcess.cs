using System.Collections.Immutable;
using ProbeRunner.Metrology.LinearAlgebra;

namespace ProbeRunner.Metrology.JointModel;

/// <summary>
/// The process for readings at any places: universal kriging with the trend's coefficients unknown
/// (Rasmussen and Williams 2006, section 2.7, vague prior: equations 2.41 and 2.42).
/// </summary>
internal sealed class ScatteredProcess : ISurfaceProcess
{
    private const int BlockPlaces = 64;

    private readonly Observations observed;
    private readonly Cholesky covariance;
    private readonly double[][] whitened;
    private readonly Cholesky information;
    private readonly double[] coefficients;
    private readonly double[] loads;
    private (double[] Errors, double[] Variances)? leaveOneOut;

    private ScatteredProcess(
        Observations observed, HyperParameters setting, Cholesky covariance, double[][] whitened, Cholesky information, double[] coefficients, double[] loads)
    {
        this.observed = observed;
        Setting = setting;
        this.covariance = covariance;
        this.whitened = whitened;
        this.information = information;
        this.coefficients = coefficients;
        this.loads = loads;
    }

    public HyperParameters Setting { get; }

    /// <summary>Coefficients of the trend's columns.</summary>
    public ReadOnlySpan<double> Coefficients => coefficients;

    /// <summary>Inverse covariance times what the trend leaves.</summary>
    public ReadOnlySpan<double> Loads => loads;

    /// <summary>Conditions on the readings; null when rounding leaves the covariance indefinite.</summary>
    public static ScatteredProcess? Condition(Observations observed, double[][] distances, HyperParameters setting)
    {
        double variance = setting.Departure * setting.Departure;
        double[][] matrix = new double[observed.Count][];
        for (int i = 0; i < observed.Count; i++)
        {
            double[] row = Covariances(setting, distances[i]);
            for (int j = 0; setting.DriftRatio > 0 && j <= i; j++)
            {
                row[j] += variance * setting.DriftRatio * Math.Min(observed.Time![i], observed.Time[j]);
            }

            row[i] += setting.Noise * setting.Noise / (observed.Repeats?[i] ?? 1);
            matrix[i] = row;
        }

        if (Cholesky.Factor(matrix) is not { } covariance)
        {
            return null;
        }

        double[][] whitened = [.. observed.Columns.Select(column =>
        {
            double[] copy = (double[])column.Clone();
            covariance.SolveLower(copy);
            return copy;
        })];
        double[][] normal = [.. whitened.Select((a, i) => whitened[..(i + 1)].Select(b => RowOperations.Dot(a, b)).ToArray())];
        if (Cholesky.Factor(normal) is not { } information)
        {
            return null;
        }

        double[] residual = (double[])observed.Z.Clone();
        covariance.SolveLower(residual);
        double[] coefficients = [.. whitened.Select(column => RowOperations.Dot(column, residual))];
        information.Solve(coefficients);
        for (int k = 0; k < coefficients.Length; k++)
        {
            RowOperations.AddScaled(residual, whitened[k], -coefficients[k]);
        }

        covariance.SolveUpper(residual);
        return new ScatteredProcess(observed, setting, covariance, whitened, information, coefficients, residual);
    }

    public (double Mean, double Variance) At(double x, double y)
    {
        double[] to = new double[observed.Count];
        double[] trend = new double[coefficients.Length];
        double mean = MeanAt(x, y, to, trend);
        return (mean, VarianceOf(to, trend, PriorVariance));
    }

    public void OnLattice(ImmutableArray<double> xs, ImmutableArray<double> ys, double[] means, double[]? variances)
    {
        // Rows of places at a time, spread over the processors: each reads the factor once for all its places.
        int blocks = (means.Length + BlockPlaces - 1) / BlockPlaces;
        Parallel.For(0, blocks, block =>
        {
            int first = block * BlockPlaces, count = Math.Min(BlockPlaces, means.Length - first);
            double[][] to = new double[count][], trend = new double[count][];
            for (int k = 0; k < count; k++)
            {
                (to[k], trend[k]) = (new double[observed.Count], new double[coefficients.Length]);
                means[first + k] = MeanAt(xs[(first + k) % xs.Length], ys[(first + k) / xs.Length], to[k], trend[k]);
            }

            if (variances is null)
            {
                return;
            }

            covariance.SolveLower(to);
            for (int k = 0; k < count; k++)
            {
                variances[first + k] = VarianceOfWhitened(to[k], trend[k], PriorVariance);
            }
        });
    }

    public double[] CovariancesWith(IReadOnlyList<WeightedPlace> sum, IReadOnlyList<(double X, double Y)> places)
    {
        double[] to = new double[observed.Count], trend = new double[coefficients.Length];
        double[] pull = new double[to.Length], slope = new double[trend.Length];
        foreach ((double x, double y, double weight) in sum)
        {
            MeanAt(x, y, to, trend);
            RowOperations.AddScaled(pull, to, weight);
            RowOperations.AddScaled(slope, trend, weight);
        }

        Whiten(pull, slope);
        information.SolveUpper(slope);
        for (int k = 0; k < slope.Length; k++)
        {
            RowOperations.AddScaled(pull, whitened[k], slope[k]);
        }

        covariance.SolveUpper(pull);
        double[] found = new double[places.Count];
        for (int i = 0; i < found.Length; i++)
        {
            (double x, double y) = places[i];
            MeanAt(x, y, to, trend);
            double[] prior = Covariances(Setting, [.. sum.Select(term => double.Hypot(term.X - x, term.Y - y))]);
            found[i] = sum.Select((term, k) => term.Weight * prior[k]).Sum() - RowOperations.Dot(to, pull) + RowOperations.Dot(trend, slope);
        }

        return found;
    }

    public (double[] Errors, double[] Variances) LeaveOneOut()
    {
        if (leaveOneOut is { } known)
        {
            return known;
        }

        // The inverse covariance less the trend's part, P: error P y / P_ii and variance 1 / P_ii
        // (Dubrule, Mathematical Geology 15, 1983).
        double[] precision = covariance.InverseDiagonal();
        double[][] spread = [.. whitened.Select(column => (double[])column.Clone())];
        foreach (double[] column in spread)
        {
            covariance.SolveUpper(column);
        }

        double[] row = new double[spread.Length];
        double[] errors = new double[observed.Count];
        for (int i = 0; i < errors.Length; i++)
        {
            for (int k = 0; k < row.Length; k++)
            {
                row[k] = spread[k][i];
            }

            information.SolveLower(row);
            precision[i] = Math.Max(precision[i] - RowOperations.Dot(row, row), 1e-9 * precision[i]);
            errors[i] = loads[i] / precision[i];
        }

        leaveOneOut = (errors, [.. precision.Select(p => 1 / p)]);
        return leaveOneOut.Value;
    }

    /// <summary>The drift at a time from 0 to 1 over the capture.</summary>
    public (double Mean, double Variance) DriftAt(double time)
    {
        if (observed.Time is null || Setting.DriftRatio == 0)
        {
            return (0, 0);
        }

        double scale = Setting.Drift * Setting.Drift;
        double[] to = [.. observed.Time.Select(at => scale * Math.Min(at, time))];
        double mean = RowOperations.Dot(to, loads);
        return (mean, VarianceOf(to, new double[coefficients.Length], scale * time));
    }

    /// <summary>A coefficient of the trend and its variance.</summary>
    public (double Mean, double Variance) Coefficient(int k)
    {
        double[] unit = new double[coefficients.Length];
        unit[k] = 1;
        information.SolveLower(unit);
        return (coefficients[k], RowOperations.Dot(unit, unit));
    }

    /// <summary>
    /// Signal-to-noise ratio, squared, with which a surface of a known shape added to the bed would stand out of the readings, the trend and
    /// everything else the model allows for left to explain it away first.
    /// </summary>
    /// <param name="shape">The added surface at each reading, mm; overwritten.</param>
    public double Noticed(double[] shape)
    {
        double[] trend = new double[coefficients.Length];
        Whiten(shape, trend);
        return RowOperations.Dot(shape, shape) - RowOperations.Dot(trend, trend);
    }

    /// <summary>The readings' places.</summary>
    public IEnumerable<(double X, double Y)> Places => observed.X.Zip(observed.Y);

    /// <summary>
    /// What covariances between places are made of: the row whose products with other places' rows are to be taken off the prior covariance
    /// (readings), and the one whose products are to be added (trend).
    /// </summary>
    public (double[] Readings, double[] Trend) FactorsAt(double x, double y)
    {
        double[] to = new double[observed.Count];
        double[] trend = new double[coefficients.Length];
        MeanAt(x, y, to, trend);
        Whiten(to, trend);
        return (to, trend);
    }

    private double PriorVariance => (Setting.Departure * Setting.Departure) + (Setting.Bump * Setting.Bump);

    /// <summary>Covariances of heights at distances.</summary>
    internal static double[] Covariances(HyperParameters setting, double[] distances)
    {
        double[] row = new double[distances.Length];
        Matern52.Fill(distances, setting.Length, row);
        double variance = setting.Departure * setting.Departure, bump = setting.Bump * setting.Bump;
        if (bump == 0)
        {
            RowOperations.AddScaled(row, row, variance - 1);
            return row;
        }

        double[] bumps = new double[distances.Length];
        Matern52.Fill(distances, setting.BumpLength, bumps);
        for (int j = 0; j < row.Length; j++)
        {
            row[j] = (variance * row[j]) + (bump * bumps[j]);
        }

        return row;
    }

    private double MeanAt(double x, double y, double[] to, double[] trend)
    {
        observed.FillDistances(x, y, to);
        Covariances(Setting, to).CopyTo(to, 0);
        observed.FillTrend(x, y, trend.AsSpan(0, observed.TrendTerms));
        return observed.MeanZ + RowOperations.Dot(to, loads) + RowOperations.Dot(trend, coefficients);
    }

    private double VarianceOf(double[] to, double[] trend, double prior)
    {
        covariance.SolveLower(to);
        return VarianceOfWhitened(to, trend, prior);
    }

    private double VarianceOfWhitened(double[] to, double[] trend, double prior)
    {
        TakeFromTrend(to, trend);
        return Math.Max(0, prior - RowOperations.Dot(to, to) + RowOperations.Dot(trend, trend));
    }

    private void Whiten(double[] to, double[] trend)
    {
        covariance.SolveLower(to);
        TakeFromTrend(to, trend);
    }

    private void TakeFromTrend(double[] to, double[] trend)
    {
        for (int k = 0; k < trend.Length; k++)
        {
            trend[k] -= RowOperations.Dot(whitened[k], to);
        }

        information.SolveLower(trend);
    }
}
