using System.Collections.Immutable;
using ProbeRunner.Metrology.LinearAlgebra;
using ProbeRunner.Metrology.Planes;

namespace ProbeRunner.Metrology.JointModel;

/// <summary>The process for a full grid of readings: everything is a product of something along x and something along y.</summary>
internal sealed class GridProcess : ISurfaceProcess
{
    private readonly FullGrid grid;
    private readonly GridLikelihood parts;
    private readonly Box bed;
    private readonly double[] precisions;
    private readonly Cholesky information;
    private readonly double[] coefficients;
    private readonly double[][] loads;

    /// <summary>Conditions on the readings.</summary>
    public GridProcess(FullGrid grid, GridLikelihood parts, Box bed, HyperParameters setting)
    {
        (this.grid, this.parts, this.bed, Setting) = (grid, parts, bed, setting);
        double variance = setting.Departure * setting.Departure, noise = setting.Noise * setting.Noise;
        precisions = [.. parts.Eigenvalues.Select(l => 1 / ((variance * l) + noise))];
        (information, coefficients) = parts.Information(precisions);
        information.Solve(coefficients);
        double[] residual = [.. parts.Heights];
        for (int k = 0; k < coefficients.Length; k++)
        {
            RowOperations.AddScaled(residual, parts.Trend[k], -coefficients[k]);
        }

        RowOperations.Multiply(residual, residual, precisions);
        loads = Rows(residual);
    }

    public HyperParameters Setting { get; }

    public (double Mean, double Variance) At(double x, double y)
    {
        double[] mean = new double[1], variance = new double[1];
        OnLattice([x], [y], mean, variance);
        return (mean[0], variance[0]);
    }

    public void OnLattice(ImmutableArray<double> xs, ImmutableArray<double> ys, double[] means, double[]? variances)
    {
        double[][] toX = parts.AlongX.CorrelationsOf(xs), toY = parts.AlongY.CorrelationsOf(ys);
        double departure = Setting.Departure * Setting.Departure;
        double[][] smooth = Sandwich(toY, loads, toX);
        double[][]? spread = variances is null ? null : Sandwich(Products.Squared(toY), Rows(precisions), Products.Squared(toX));
        double[][][]? leverage = variances is null
            ? null
            : [.. Enumerable.Range(0, coefficients.Length).Select(k => Sandwich(toY, Rows(Weighted(parts.Trend[k])), toX))];
        double[] trend = new double[coefficients.Length];
        for (int row = 0; row < ys.Length; row++)
        {
            double v = bed.V(ys[row]);
            for (int column = 0; column < xs.Length; column++)
            {
                FillTrend(bed.U(xs[column]), v, trend);
                int at = (row * xs.Length) + column;
                means[at] = grid.MeanZ + (departure * smooth[row][column]) + RowOperations.Dot(trend, coefficients);
                if (variances is not null)
                {
                    for (int k = 0; k < trend.Length; k++)
                    {
                        trend[k] -= departure * leverage![k][row][column];
                    }

                    information.SolveLower(trend);
                    variances[at] = Math.Max(0, departure - (departure * departure * spread![row][column]) + RowOperations.Dot(trend, trend));
                }
            }
        }
    }

    public double[] CovariancesWith(IReadOnlyList<WeightedPlace> sum, IReadOnlyList<(double X, double Y)> places)
    {
        double[][] sumX = parts.AlongX.CorrelationsOf([.. sum.Select(term => term.X)]), sumY = parts.AlongY.CorrelationsOf([.. sum.Select(term => term.Y)]);
        double departure = Setting.Departure * Setting.Departure;
        double[] pull = new double[grid.Z.Length], trend = new double[coefficients.Length], slope = new double[trend.Length];
        for (int i = 0; i < sum.Count; i++)
        {
            for (int row = 0; row < grid.Ys.Length; row++)
            {
                RowOperations.AddScaled(pull.AsSpan(row * grid.Xs.Length, grid.Xs.Length), sumX[i], sum[i].Weight * departure * sumY[i][row]);
            }

            FillTrend(bed.U(sum[i].X), bed.V(sum[i].Y), trend);
            RowOperations.AddScaled(slope, trend, sum[i].Weight);
        }

        pull = Weighted(pull);
        for (int k = 0; k < slope.Length; k++)
        {
            slope[k] -= RowOperations.Dot(parts.Trend[k], pull);
        }

        information.Solve(slope);
        for (int k = 0; k < slope.Length; k++)
        {
            RowOperations.AddScaled(pull, Weighted(parts.Trend[k]), slope[k]);
        }

        double[][] pulls = Rows(pull), toX = parts.AlongX.CorrelationsOf([.. places.Select(p => p.X)]), toY = parts.AlongY.CorrelationsOf([.. places.Select(p => p.Y)]);
        double[] found = new double[places.Count];
        for (int i = 0; i < found.Length; i++)
        {
            (double x, double y) = places[i];
            FillTrend(bed.U(x), bed.V(y), trend);
            double prior = sum.Sum(term => term.Weight * Matern52.At(Math.Abs(term.X - x), Setting.Length) * Matern52.At(Math.Abs(term.Y - y), Setting.Length));
            double explained = pulls.Select((row, k) => toY[i][k] * RowOperations.Dot(row, toX[i])).Sum();
            found[i] = (departure * (prior - explained)) + RowOperations.Dot(trend, slope);
        }

        return found;
    }

    public (double[] Errors, double[] Variances) LeaveOneOut()
    {
        // As for scattered readings: the precision's diagonal less the trend's part.
        double[][] vectorsX = Products.Transposed(parts.AlongX.Vectors), vectorsY = Products.Transposed(parts.AlongY.Vectors);
        double[][] diagonal = Sandwich(Products.Squared(vectorsY), Rows(precisions), Products.Squared(vectorsX));
        double[][] forces = Sandwich(vectorsY, loads, vectorsX);
        double[][][] spread = [.. Enumerable.Range(0, coefficients.Length).Select(k => Sandwich(vectorsY, Rows(Weighted(parts.Trend[k])), vectorsX))];
        double[] errors = new double[grid.Z.Length], variances = new double[grid.Z.Length], trend = new double[coefficients.Length];
        for (int i = 0; i < errors.Length; i++)
        {
            (int row, int column) = Math.DivRem(i, grid.Xs.Length);
            for (int k = 0; k < trend.Length; k++)
            {
                trend[k] = spread[k][row][column];
            }

            information.SolveLower(trend);
            double precision = Math.Max(diagonal[row][column] - RowOperations.Dot(trend, trend), 1e-9 * diagonal[row][column]);
            (errors[i], variances[i]) = (forces[row][column] / precision, 1 / precision);
        }

        return (errors, variances);
    }

    /// <summary>left times middle times right-transposed.</summary>
    private static double[][] Sandwich(double[][] left, double[][] middle, double[][] right) =>
        Products.Times(left, Products.TimesTransposed(middle, right));

    private static void FillTrend(double u, double v, double[] trend)
    {
        for (int k = 0; k < trend.Length; k++)
        {
            trend[k] = GridLikelihood.TrendAt(k, u, v);
        }
    }

    private double[] Weighted(double[] values)
    {
        double[] weighted = new double[values.Length];
        RowOperations.Multiply(weighted, values, precisions);
        return weighted;
    }

    private double[][] Rows(double[] values) =>
        [.. Enumerable.Range(0, grid.Ys.Length).Select(row => values.AsSpan(row * grid.Xs.Length, grid.Xs.Length).ToArray())];
}
