using ProbeRunner.Metrology.LinearAlgebra;
using ProbeRunner.Metrology.Planes;

namespace ProbeRunner.Metrology.JointModel;

/// <summary>
/// Readings as the model sees them: places, heights less their mean, times from 0 to 1, the columns of the trend
/// (terms of u and v over the bed, then one column for each epoch after the first).
/// </summary>
internal sealed class Observations
{
    private readonly Box bed;

    public Observations(IReadOnlyList<CaptureReading> readings, Box bed, bool timed, IReadOnlyList<int> epochs, double firstTime, double lastTime, double[]? repeats = null)
    {
        this.bed = bed;
        Epochs = epochs;
        Repeats = repeats;
        X = [.. readings.Select(r => r.X)];
        Y = [.. readings.Select(r => r.Y)];
        MeanZ = readings.Average(r => r.Z);
        Z = [.. readings.Select(r => r.Z - MeanZ)];
        FirstTime = firstTime;
        Duration = Math.Max(lastTime - firstTime, double.Epsilon);
        Time = timed ? [.. readings.Select(r => (r.TimeSeconds - FirstTime) / Duration)] : null;
        TrendTerms = Terms(readings.Count);
        double[][] trend = [.. Enumerable.Range(0, TrendTerms).Select(_ => new double[Count])];
        double[] basis = new double[TrendTerms];
        for (int i = 0; i < Count; i++)
        {
            FillTrend(X[i], Y[i], basis);
            for (int k = 0; k < TrendTerms; k++)
            {
                trend[k][i] = basis[k];
            }
        }

        Columns = [.. trend, .. epochs.Skip(1).Select(epoch => readings.Select(r => r.Epoch == epoch ? 1.0 : 0).ToArray())];
        TrendTerms -= DropDependent();
    }

    public int Count => X.Length;

    public double[] X { get; }

    public double[] Y { get; }

    /// <summary>Heights less <see cref="MeanZ"/>.</summary>
    public double[] Z { get; }

    public double MeanZ { get; }

    /// <summary>Times, 0 at the first reading and 1 at the last; null when nothing drifts.</summary>
    public double[]? Time { get; }

    public double FirstTime { get; }

    public double Duration { get; }

    /// <summary>How many touches each reading is the mean of; null when each is one.</summary>
    public double[]? Repeats { get; }

    /// <summary>Epoch numbers, rising; the first is the datum of the map.</summary>
    public IReadOnlyList<int> Epochs { get; }

    /// <summary>How many of <see cref="Columns"/> are the bed's own trend; the others are epochs.</summary>
    public int TrendTerms { get; private set; }

    /// <summary>The trend's columns, linearly independent.</summary>
    public double[][] Columns { get; private set; }

    /// <summary>The trend's terms at a place; as many as <paramref name="basis"/> has room for, at most six.</summary>
    public void FillTrend(double x, double y, Span<double> basis)
    {
        double u = bed.U(x), v = bed.V(y);
        ReadOnlySpan<double> all = [1, u, v, u * v, (u * u) - (1.0 / 3), (v * v) - (1.0 / 3)];
        all[..Math.Min(basis.Length, 6)].CopyTo(basis);
    }

    /// <summary>Distances between all readings, lower triangle with the diagonal.</summary>
    public double[][] Distances()
    {
        double[][] distances = new double[Count][];
        for (int i = 0; i < Count; i++)
        {
            distances[i] = new double[i + 1];
            FillDistances(X[i], Y[i], distances[i].AsSpan(0, i));
        }

        return distances;
    }

    /// <summary>Distances of a place from the first readings.</summary>
    public void FillDistances(double x, double y, Span<double> distances)
    {
        for (int j = 0; j < distances.Length; j++)
        {
            double dx = X[j] - x, dy = Y[j] - y;
            distances[j] = Math.Sqrt((dx * dx) + (dy * dy));
        }
    }

    private static int Terms(int count) => count switch { >= 9 => 6, >= 5 => 3, _ => 1 };

    /// <summary>Takes out trend terms that the places cannot tell apart, last ones first; gives how many.</summary>
    private int DropDependent()
    {
        int dropped = 0;
        while (Columns.Length > 1 && LeastSquares.Solve(Columns, Z) is null)
        {
            int last = TrendTerms - dropped - 1;
            Columns = last > 0 ? [.. Columns[..last], .. Columns[(last + 1)..]] : Columns[..1];
            dropped += last > 0 ? 1 : 0;
        }

        return dropped;
    }
}
