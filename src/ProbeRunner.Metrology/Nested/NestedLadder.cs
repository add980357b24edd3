using ProbeRunner.Metrology.Series;

namespace ProbeRunner.Metrology.Nested;

/// <summary>The groups of a nested study, level by level: level 0 is the whole study, the last the single readings.</summary>
internal sealed class NestedLadder
{
    private readonly int[][] groupOfReading;
    private readonly int[] groupCounts;
    private readonly double[] values;

    internal NestedLadder(IReadOnlyList<NestedReading> readings, int levels)
    {
        values = [.. readings.Select(r => r.Value)];
        Depth = levels + 1;
        groupOfReading = new int[Depth + 1][];
        groupCounts = new int[Depth + 1];
        groupOfReading[0] = new int[values.Length];
        groupCounts[0] = 1;
        for (int level = 1; level <= levels; level++)
        {
            var known = new Dictionary<(int Parent, string Label), int>();
            groupOfReading[level] = new int[values.Length];
            for (int i = 0; i < values.Length; i++)
            {
                (int, string) key = (groupOfReading[level - 1][i], readings[i].Labels[level - 1]);
                if (!known.TryGetValue(key, out int group))
                {
                    known.Add(key, group = known.Count);
                }

                groupOfReading[level][i] = group;
            }

            groupCounts[level] = known.Count;
        }

        groupOfReading[Depth] = [.. Enumerable.Range(0, values.Length)];
        groupCounts[Depth] = values.Length;
    }

    /// <summary>Number of levels with a component, the readings included.</summary>
    internal int Depth { get; }

    /// <summary>Mean of all readings.</summary>
    internal double Mean => Moments.Mean(values);

    internal int Freedom(int level) => groupCounts[level] - groupCounts[level - 1];

    /// <summary>Number of readings in every group of a level.</summary>
    internal int[] Sizes(int level)
    {
        var sizes = new int[groupCounts[level]];
        foreach (int group in groupOfReading[level])
        {
            sizes[group]++;
        }

        return sizes;
    }

    /// <summary>Sum over readings of the squared distance from the mean of the reading's group to the mean of the group around it.</summary>
    internal double SumOfSquares(int level)
    {
        double[] inner = Means(level);
        double[] outer = Means(level - 1);
        return Moments.Sum(values.Length, i => Math.Pow(inner[groupOfReading[level][i]] - outer[groupOfReading[level - 1][i]], 2));
    }

    /// <summary>Coefficient of a deeper (or the same) level's variance in the expected sum of squares of a level (Searle 1971, ch. 11).</summary>
    internal double Coefficient(int level, int deeper) => Weight(level, deeper) - Weight(level - 1, deeper);

    /// <summary>Sum over groups of the deeper level of size^2 / size of the outer group it lies in.</summary>
    internal double Weight(int outer, int deeper)
    {
        int[] outerSizes = Sizes(outer);
        int[] deeperSizes = Sizes(deeper);

        // Every reading carries its share: a group of m readings is met m times, each time with m / outer size.
        return Moments.Sum(values.Length, i => (double)deeperSizes[groupOfReading[deeper][i]] / outerSizes[groupOfReading[outer][i]]);
    }

    private double[] Means(int level)
    {
        double centre = Mean;
        var sums = new double[groupCounts[level]];
        for (int i = 0; i < values.Length; i++)
        {
            sums[groupOfReading[level][i]] += values[i] - centre;
        }

        int[] sizes = Sizes(level);
        return [.. sums.Select((sum, group) => centre + (sum / sizes[group]))];
    }
}
