using ProbeRunner.Metrology.JointModel;
using ProbeRunner.Metrology.LinearAlgebra;
using ProbeRunner.Metrology.Planes;

namespace ProbeRunner.Metrology.Tests.JointModel;

public sealed class GridProcessTests
{
    [Fact]
    public void The_quick_way_over_a_full_grid_gives_what_the_whole_covariance_gives()
    {
        double[] xs = [0, 20, 45, 60, 80, 100, 130], ys = [0, 25, 50, 75, 90, 120];
        var bed = new Box(0, 0, 130, 120);
        double[] z = [.. ys.SelectMany(y => xs.Select(x => (0.1 * Math.Sin(x / 30)) + (0.05 * Math.Cos(y / 20)) + (0.001 * x)))];
        double mean = z.Average();
        var grid = new FullGrid(xs, ys, [.. z.Select(h => h - mean)], mean);
        var setting = new HyperParameters(50, 0.05, 0.01, 0, 1);
        var likelihood = new GridLikelihood(grid, new Axis(xs, [.. xs.Select(bed.U)], 50), new Axis(ys, [.. ys.Select(bed.V)], 50));
        var process = new GridProcess(grid, likelihood, bed, setting);

        // The same by the definition: product covariance, unknown trend, one dense factor.
        (double X, double Y)[] places = [.. ys.SelectMany(y => xs.Select(x => (x, y)))];
        double Covariance((double X, double Y) a, (double X, double Y) b) => 0.0025 * Matern52.At(Math.Abs(a.X - b.X), 50) * Matern52.At(Math.Abs(a.Y - b.Y), 50);
        Cholesky factor = Cholesky.Factor([.. places.Select((a, i) => places[..(i + 1)].Select(b => Covariance(a, b) + (a == b ? 0.0001 : 0)).ToArray())])!;
        double[] Trend(double x, double y) => [1, bed.U(x), bed.V(y), bed.U(x) * bed.V(y), (bed.U(x) * bed.U(x)) - (1.0 / 3), (bed.V(y) * bed.V(y)) - (1.0 / 3)];
        double[][] white = [.. Enumerable.Range(0, 6).Select(k =>
        {
            double[] column = [.. places.Select(p => Trend(p.X, p.Y)[k])];
            factor.SolveLower(column);
            return column;
        })];
        Cholesky information = Cholesky.Factor([.. white.Select((a, i) => white[..(i + 1)].Select(b => RowOperations.Dot(a, b)).ToArray())])!;
        double[] heights = [.. z];
        factor.SolveLower(heights);
        double[] coefficients = [.. white.Select(column => RowOperations.Dot(column, heights))];
        information.Solve(coefficients);
        foreach ((double x, double y) in new[] { (33.0, 61.0), (0, 0), (130, 119), (71, 5) })
        {
            double[] to = [.. places.Select(p => Covariance(p, (x, y)))], trend = Trend(x, y);
            factor.SolveLower(to);
            double expected = RowOperations.Dot(to, heights);
            for (int k = 0; k < 6; k++)
            {
                trend[k] -= RowOperations.Dot(white[k], to);
                expected += trend[k] * coefficients[k];
            }

            information.SolveLower(trend);
            (double found, double variance) = process.At(x, y);
            Assert.Equal(expected, found, 1e-10);
            Assert.Equal(0.0025 - RowOperations.Dot(to, to) + RowOperations.Dot(trend, trend), variance, 1e-11);
        }

        // A weighted sum's covariance with a place, by the definition as well.
        (double[] White, double[] Left) Parts(double x, double y)
        {
            double[] to = [.. places.Select(p => Covariance(p, (x, y)))], trend = Trend(x, y);
            factor.SolveLower(to);
            for (int k = 0; k < 6; k++)
            {
                trend[k] -= RowOperations.Dot(white[k], to);
            }

            information.SolveLower(trend);
            return (to, trend);
        }

        WeightedPlace[] sum = [new(33, 61, 0.5), new(120, 20, -2), new(0, 119, 1)];
        (double[] toPlace, double[] left) = Parts(71, 5);
        double wanted = sum.Sum(term => term.Weight * (Covariance((term.X, term.Y), (71, 5))
            - RowOperations.Dot(Parts(term.X, term.Y).White, toPlace) + RowOperations.Dot(Parts(term.X, term.Y).Left, left)));
        Assert.Equal(wanted, process.CovariancesWith(sum, [(71, 5)])[0], 1e-11);
    }

    [Fact]
    public void A_large_grid_with_drift_and_a_second_homing_is_mapped()
    {
        var random = new Random(9);
        static double Bed(double x, double y) => (0.1 * x / 220) + (0.08 * Math.Sin(x / 35) * Math.Cos(y / 40));
        var readings = new List<CaptureReading>();
        for (int k = 0; k < 900; k++)
        {
            if (k % 30 == 0)
            {
                readings.Add(Read(110, 110));
            }

            readings.Add(Read(220.0 * (k % 30) / 29, 220.0 * (k / 30) / 29));
        }

        SurfacePosterior posterior = SurfaceModel.Fit(readings, new SurfaceModelOptions { RepeatabilityMm = 0.003 }).Value;
        double[] errors = [.. Enumerable.Range(0, 100).Select(k => posterior.Predict(22 * (k % 10), 22 * (k / 10)).Mean - Bed(22 * (k % 10), 22 * (k / 10)))];

        Assert.Equal([1, 2], posterior.EpochOffsets.Select(e => e.Epoch));
        Assert.InRange(posterior.EpochOffsets[1].Offset.Mean, 0.04, 0.06);
        Assert.True(posterior.DriftProbability > 0.9);
        Assert.InRange(Math.Sqrt(errors.Average(e => e * e)), 0, 0.006);

        CaptureReading Read(double x, double y)
        {
            int n = readings.Count;
            double noise = 0.003 * (random.NextDouble() + random.NextDouble() + random.NextDouble() - 1.5) * 2;
            return new CaptureReading(x, y, Bed(x, y) + (0.03 * n / 930) + (n >= 500 ? 0.05 : 0) + noise, 4 * n, n >= 500 ? 2 : 1);
        }
    }

    [Fact]
    public void Ten_thousand_readings_at_any_places_and_on_a_grid_are_mapped()
    {
        var random = new Random(1);
        CaptureReading[] scattered = [.. Enumerable.Range(0, 10_000).Select(_ =>
        {
            double x = 350 * random.NextDouble(), y = 350 * random.NextDouble();
            return new CaptureReading(x, y, (0.1 * Math.Sin(x / 50)) + (0.01 * random.NextDouble()), 0, 1);
        })];
        CaptureReading[] gridded = [.. Enumerable.Range(0, 10_000).Select(k => new CaptureReading(3.5 * (k % 100), 3.5 * (k / 100), 0.1 * Math.Sin(3.5 * (k % 100) / 50), 0, 1))];

        Assert.Equal(0.005 + (0.1 * Math.Sin(2)), SurfaceModel.Fit(scattered).Value.Predict(100, 200).Mean, 0.003);
        Assert.Equal(0.1 * Math.Sin(2), SurfaceModel.Fit(gridded).Value.Predict(100, 200).Mean, 0.001);
    }
}
