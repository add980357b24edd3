using System.Collections.Immutable;
using ProbeRunner.Metrology.LinearAlgebra;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.JointModel;

/// <summary>Beds drawn from what a capture says: each is as probable as any other.</summary>
public static class SurfaceSamples
{
    private const int MostPlaces = 1000;
    private const double Jitter = 1e-10;

    /// <summary>
    /// Draws heights at places, correlated as the posterior has them. The local scale and the fine structure widen each place's own spread, not the correlation.
    /// Refused for more than 1,000 places and for maps of large full grids.
    /// </summary>
    /// <param name="posterior">The posterior.</param>
    /// <param name="places">Bed places, mm, 1 to 1,000.</param>
    /// <param name="count">How many beds, 1 or more.</param>
    /// <param name="random">Seeded chance.</param>
    /// <returns>For each bed the heights at the places, mm.</returns>
    public static Answer<ImmutableArray<ImmutableArray<double>>> Draw(
        SurfacePosterior posterior, IReadOnlyList<(double X, double Y)> places, int count, Random random)
    {
        ArgumentNullException.ThrowIfNull(posterior);
        ArgumentNullException.ThrowIfNull(places);
        ArgumentNullException.ThrowIfNull(random);
        if (places.Count is < 1 or > MostPlaces || count < 1 || places.Any(p => !double.IsFinite(p.X) || !double.IsFinite(p.Y)))
        {
            return Reason.OutOfRange("Samples are drawn at 1 to 1,000 places with finite coordinates, one bed or more.");
        }

        if (posterior.Processes.Any(p => p is not ScatteredProcess))
        {
            return Reason.Assumption("Samples are not drawn from maps of large full grids; their standard deviation says enough.");
        }

        var factors = new Dictionary<ScatteredProcess, Cholesky>();
        var beds = ImmutableArray.CreateBuilder<ImmutableArray<double>>(count);
        for (int k = 0; k < count; k++)
        {
            ScatteredProcess process = Pick(posterior, random.NextDouble());
            if (!factors.TryGetValue(process, out Cholesky? factor))
            {
                factors[process] = factor = Factor(posterior, process, places);
            }

            double[] normals = [.. places.Select(_ => Normal(random))];
            double unresolved = Math.Sqrt(posterior.Unresolved(process.Setting));
            beds.Add([.. places.Select((p, i) =>
                process.At(p.X, p.Y).Mean + RowOperations.Dot(factor.Row(i), normals.AsSpan(0, i + 1)) + (unresolved * Normal(random)))]);
        }

        return beds.ToImmutable();
    }

    private static ScatteredProcess Pick(SurfacePosterior posterior, double share)
    {
        foreach (ISurfaceProcess process in posterior.Processes)
        {
            share -= process.Setting.Weight;
            if (share < 0)
            {
                return (ScatteredProcess)process;
            }
        }

        return (ScatteredProcess)posterior.Processes[^1];
    }

    private static Cholesky Factor(SurfacePosterior posterior, ScatteredProcess process, IReadOnlyList<(double X, double Y)> places)
    {
        (double[] Readings, double[] Trend)[] factors = [.. places.Select(p => process.FactorsAt(p.X, p.Y))];
        double[] scales = [.. places.Select(p => Math.Sqrt(posterior.ScaleAt(p.X, p.Y)))];
        double prior = (process.Setting.Departure * process.Setting.Departure) + (process.Setting.Bump * process.Setting.Bump);
        double[][] matrix = new double[places.Count][];
        for (int i = 0; i < matrix.Length; i++)
        {
            double[] distances = [.. places.Take(i + 1).Select(p => Math.Sqrt(Math.Pow(p.X - places[i].X, 2) + Math.Pow(p.Y - places[i].Y, 2)))];
            double[] row = ScatteredProcess.Covariances(process.Setting, distances);
            for (int j = 0; j <= i; j++)
            {
                row[j] = scales[i] * scales[j] * (row[j] - RowOperations.Dot(factors[i].Readings, factors[j].Readings)
                    + RowOperations.Dot(factors[i].Trend, factors[j].Trend));
            }

            row[i] = Math.Max(row[i], 0);
            matrix[i] = row;
        }

        // Where touches lie close the matrix is singular to rounding: a jitter far below a micrometre, raised until it factors.
        for (double jitter = Jitter * prior; ; jitter *= 100)
        {
            double[][] attempt = [.. matrix.Select(row => (double[])row.Clone())];
            for (int i = 0; i < attempt.Length; i++)
            {
                attempt[i][i] += jitter;
            }

            if (Cholesky.Factor(attempt) is { } factor)
            {
                return factor;
            }
        }
    }

    private static double Normal(Random random) =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
