using ProbeRunner.Metrology.JointModel;
using ProbeRunner.Metrology.Planes;
using ProbeRunner.Metrology.Tests.Data;

namespace ProbeRunner.Metrology.Tests.JointModel;

public sealed class GaussianProcessTests
{
    [Fact] // sklearn 1.2.1 GaussianProcessRegressor, ConstantKernel(0.025^2) * Matern(60, nu=2.5), alpha 0.002^2, on 7 x 7 of R datasets::volcano
    public void The_correlation_and_its_algebra_are_those_of_the_reference_library()
    {
        // The library's process has no trend: condition by hand on its covariance, factored by our own Cholesky.
        SurfacePoint[] points = Beds.SevenBySeven;
        double[][] matrix = [.. points.Select((a, i) => points[..(i + 1)].Select(b =>
            (0.025 * 0.025 * Matern52.At(Distance(a, b.X, b.Y), 60)) + (a == b ? 0.002 * 0.002 : 0)).ToArray())];
        LinearAlgebra.Cholesky factor = LinearAlgebra.Cholesky.Factor(matrix)!;
        double[] loads = [.. points.Select(p => p.Z)];
        factor.Solve(loads);
        (double X, double Y, double Mean, double Sd)[] expected =
        [
            (45, 45, 0.02984014079, 0.002793940783), (90, 90, 0.028053036522, 0.001837979273),
            (100, 37.5, 0.003227344698, 0.002494952761), (200, 10, -0.035259021153, 0.007806420878),
        ];
        foreach ((double x, double y, double mean, double sd) in expected)
        {
            double[] to = [.. points.Select(p => 0.025 * 0.025 * Matern52.At(Distance(p, x, y), 60))];
            Assert.Equal(mean, LinearAlgebra.RowOperations.Dot(to, loads), 1e-11);
            factor.SolveLower(to);
            Assert.Equal(sd, Math.Sqrt((0.025 * 0.025) - LinearAlgebra.RowOperations.Dot(to, to)), 1e-11);
        }

        double logLikelihood = -0.5 * (LinearAlgebra.RowOperations.Dot([.. points.Select(p => p.Z)], loads) + factor.LogDeterminant + (49 * Math.Log(2 * Math.PI)));
        Assert.Equal(117.65558476907346, logLikelihood, 1e-7);
    }

    [Theory] // sklearn 1.2.1 GaussianProcessRegressor, optimizer off, on 7 x 7 of R datasets::volcano; sd of noise 0.002, of the surface 0.025
    [InlineData(45, true, 48.61947265, .02876049, .02224775, .00622299, -.03577602, .00152956, .00150947, .00151288, .00612099)]
    [InlineData(60, false, 134.6436724421, .02929690, .03001763, .00302383, -.03356498, .00510333, .00193541, .00444664, .01036858)]
    public void Other_correlations_factor_as_in_the_reference_library(
        double length, bool smooth, double logLikelihood, double m1, double m2, double m3, double m4, double s1, double s2, double s3, double s4)
    {
        double Covariance(SurfacePoint a, double x, double y)
        {
            double d = Distance(a, x, y) / length, s = Math.Sqrt(3) * d;
            return 0.025 * 0.025 * (smooth ? Math.Exp(-d * d / 2) : (1 + s) * Math.Exp(-s));
        }

        SurfacePoint[] points = Beds.SevenBySeven;
        double[] heights = [.. points.Select(p => p.Z)], loads = [.. heights];
        LinearAlgebra.Cholesky factor = LinearAlgebra.Cholesky.Factor(
            [.. points.Select((a, i) => points[..(i + 1)].Select(b => Covariance(a, b.X, b.Y) + (a == b ? 0.002 * 0.002 : 0)).ToArray())])!;
        factor.Solve(loads);
        (double X, double Y)[] places = [(45, 45), (90, 90), (100, 37.5), (200, 10)];
        double[] means = [m1, m2, m3, m4], deviations = [s1, s2, s3, s4];
        for (int k = 0; k < 4; k++)
        {
            double[] to = [.. points.Select(p => Covariance(p, places[k].X, places[k].Y))];
            Assert.Equal(means[k], LinearAlgebra.RowOperations.Dot(to, loads), 6e-9);
            factor.SolveLower(to);
            Assert.Equal(deviations[k], Math.Sqrt((0.025 * 0.025) - LinearAlgebra.RowOperations.Dot(to, to)), 6e-9);
        }

        Assert.Equal(
            logLikelihood,
            -0.5 * (LinearAlgebra.RowOperations.Dot(heights, loads) + factor.LogDeterminant + (49 * Math.Log(2 * Math.PI))),
            1e-7);
    }

    [Fact] // sklearn 1.2.1, squared exponential of length 1, noise variance 0.01, optimizer off
    public void One_dimension_by_hand_agrees_with_the_reference_library()
    {
        double[] x = [0, 1, 3], y = [0, 1, -1];
        static double Kernel(double d) => Math.Exp(-d * d / 2);
        double[][] matrix = [.. x.Select((a, i) => x[..(i + 1)].Select(b => Kernel(a - b) + (a == b ? 0.01 : 0)).ToArray())];
        LinearAlgebra.Cholesky factor = LinearAlgebra.Cholesky.Factor(matrix)!;
        double[] loads = [.. y];
        factor.Solve(loads);
        foreach ((double at, double mean, double sd) in new[] { (.5, .58979641, .18744752), (2, .20369782, .54793075), (4, -.71947979, .79292163) })
        {
            double[] to = [.. x.Select(a => Kernel(a - at))];
            Assert.Equal(mean, LinearAlgebra.RowOperations.Dot(to, loads), 1e-8);
            factor.SolveLower(to);
            Assert.Equal(sd, Math.Sqrt(1 - LinearAlgebra.RowOperations.Dot(to, to)), 1e-8);
        }

        Assert.Equal(
            -4.040070820769,
            -0.5 * (LinearAlgebra.RowOperations.Dot(y, loads) + factor.LogDeterminant + (3 * Math.Log(2 * Math.PI))),
            1e-12);
    }

    [Fact]
    public void The_tridiagonal_likelihood_is_that_of_the_whole_covariance_without_the_trend()
    {
        // Restricted likelihood by its definition: projection onto the null space of the trend, here by differences that no constant changes.
        double[] y = [0.3, -0.1, 0.4, 0.2, 0.9];
        double[][] lower = [.. Enumerable.Range(0, 5).Select(i => Enumerable.Range(0, i + 1).Select(j => Matern52.At(10 * (i - j), 25)).ToArray())];
        double Entry(int i, int j) => lower[Math.Max(i, j)][Math.Min(i, j)] + (i == j ? 0.2 : 0);
        double[][] whole = [.. Enumerable.Range(0, 5).Select(i => Enumerable.Range(0, i + 1).Select(j => Entry(i, j)).ToArray())];
        LinearAlgebra.Cholesky factor = LinearAlgebra.Cholesky.Factor(whole)!;
        double[] solved = [.. y];
        factor.Solve(solved);
        double quadratic = LinearAlgebra.RowOperations.Dot(y, solved);

        (double logDeterminant, double found) = Tridiagonal.Reduce(lower, (double[])y.Clone()).At(0.2);

        Assert.Equal(factor.LogDeterminant, logDeterminant, 1e-10);
        Assert.Equal(quadratic, found, 1e-10);
    }

    [Fact]
    public void Leaving_a_reading_out_gives_what_a_fit_without_it_foretells()
    {
        CaptureReading[] readings = [.. Beds.SevenBySeven.Select(p => new CaptureReading(p.X, p.Y, p.Z, 0, 1))];
        var setting = new HyperParameters(60, 0.02, 0.004, 0, 1) { Bump = 0.005, BumpLength = 20 };
        var bed = new Box(0, 0, 180, 180);
        var all = new Observations(readings, bed, false, [1], 0, 0);
        (double[] errors, double[] variances) = ScatteredProcess.Condition(all, all.Distances(), setting)!.LeaveOneOut();
        foreach (int left in new[] { 0, 10, 24, 48 })
        {
            var others = new Observations([.. readings.Where((_, i) => i != left)], bed, false, [1], 0, 0);
            (double mean, double variance) = ScatteredProcess.Condition(others, others.Distances(), setting)!.At(readings[left].X, readings[left].Y);
            Assert.Equal(readings[left].Z - mean, errors[left], 1e-10);
            Assert.Equal(variance + (0.004 * 0.004), variances[left], 1e-10);
        }
    }

    [Fact]
    public void A_large_factor_times_itself_is_the_matrix()
    {
        var random = new Random(3);
        (double X, double Y)[] places = [.. Enumerable.Range(0, 333).Select(_ => (200 * random.NextDouble(), 200 * random.NextDouble()))];
        double Entry(int i, int j) => Matern52.At(Math.Sqrt(Math.Pow(places[i].X - places[j].X, 2) + Math.Pow(places[i].Y - places[j].Y, 2)), 50) + (i == j ? 0.05 : 0);
        LinearAlgebra.Cholesky factor = LinearAlgebra.Cholesky.Factor([.. places.Select((_, i) => Enumerable.Range(0, i + 1).Select(j => Entry(i, j)).ToArray())])!;
        double worst = 0;
        for (int i = 0; i < places.Length; i++)
        {
            for (int j = 0; j <= i; j++)
            {
                worst = Math.Max(worst, Math.Abs(LinearAlgebra.RowOperations.Dot(factor.Row(j), factor.Row(i)[..(j + 1)]) - Entry(i, j)));
            }
        }

        Assert.InRange(worst, 0, 1e-12);
    }

    private static double Distance(SurfacePoint point, double x, double y) => Math.Sqrt(Math.Pow(point.X - x, 2) + Math.Pow(point.Y - y, 2));
}
