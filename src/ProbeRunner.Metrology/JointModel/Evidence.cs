using ProbeRunner.Metrology.LinearAlgebra;

namespace ProbeRunner.Metrology.JointModel;

/// <summary>
/// Weighs settings of the unknown scales by how probable they make readings at any places. The trend is integrated out (restricted likelihood: the
/// readings are projected onto what no trend can explain); for each length and drift the projected covariance is made tridiagonal
/// once, after which every ratio of noise to departure costs only n steps.
/// </summary>
internal sealed class Evidence(SurfaceModelOptions options, ScaleGrid scales)
{
    private static readonly double[] DriftRatios = [0, 0.01, 0.1, 1];

    /// <summary>The settings that matter, most probable first, their weights adding up to one.</summary>
    /// <param name="observed">The readings.</param>
    /// <param name="most">How many settings to keep at most.</param>
    public IReadOnlyList<HyperParameters> Weigh(Observations observed, int most)
    {
        double[][] distances = observed.Distances();
        double[][] work = [.. distances.Select(row => new double[row.Length])];
        var candidates = new List<(HyperParameters Setting, double LogWeight)>();
        foreach (double driftRatio in observed.Time is null ? [0.0] : DriftRatios)
        {
            foreach (double length in SettingChoice.Lengths)
            {
                Tridiagonal reduced = Project(observed, distances, work, length, driftRatio);
                (HyperParameters setting, double log) = scales.Weigh(
                    reduced, length, driftRatio, departure => LogDrift(observed.Time is not null, driftRatio, departure));
                candidates.Add((setting, log + scales.LogLength(length)));
            }
        }

        return SettingChoice.Keep(candidates, most);
    }

    /// <summary>The correlation matrix without the trend's directions, tridiagonal, with the readings in the same coordinates.</summary>
    private static Tridiagonal Project(Observations observed, double[][] distances, double[][] work, double length, double driftRatio)
    {
        int count = observed.Count;
        for (int i = 0; i < count; i++)
        {
            Matern52.Fill(distances[i], length, work[i]);
            for (int j = 0; driftRatio > 0 && j <= i; j++)
            {
                work[i][j] += driftRatio * Math.Min(observed.Time![i], observed.Time[j]);
            }
        }

        double[][] columns = [.. observed.Columns.Select(column => (double[])column.Clone())];
        double[] values = (double[])observed.Z.Clone(), scratch = new double[count];
        int size = count;
        for (int k = 0; k < columns.Length; k++, size--)
        {
            // Each reflection gathers one column of the trend into the last place of a leading part that grows shorter by one;
            // the rows below the leading part are never used again.
            double[] normal = columns[k][..size];
            (_, double factor) = Reflection.Normal(normal);
            if (factor > 0)
            {
                Reflection.ApplyToBothSides(work, normal, factor, scratch);
                Reflection.Apply(values, normal, factor);
                for (int later = k + 1; later < columns.Length; later++)
                {
                    Reflection.Apply(columns[later], normal, factor);
                }
            }
        }

        return Tridiagonal.Reduce(work, values.AsSpan(0, size));
    }

    private double LogDrift(bool timed, double driftRatio, double departure)
    {
        if (!timed)
        {
            return 0;
        }

        return driftRatio == 0
            ? Math.Log(options.NoDriftProbability)
            : Math.Log((1 - options.NoDriftProbability) / (DriftRatios.Length - 1))
                + ScaleGrid.Lognormal(Math.Sqrt(driftRatio) * departure, options.DriftMedianMm, 1);
    }
}
