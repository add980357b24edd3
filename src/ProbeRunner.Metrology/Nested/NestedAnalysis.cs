using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Nested;

/// <summary>Where scatter comes from: nested random effects of any depth, balanced or not, by analysis of variance.</summary>
/// <param name="Components">Outermost level first; the last is the readings themselves.</param>
/// <param name="Mean">Mean of all readings.</param>
/// <param name="MeanStandardError">Standard error of that mean: the components (as came) with their weights in it.</param>
/// <param name="Confidence">Of the intervals of the components.</param>
public sealed record NestedAnalysis(IReadOnlyList<VarianceComponent> Components, double Mean, double MeanStandardError, double Confidence)
{
    /// <summary>Variance of a single reading taken afresh at every level: the sum of the components.</summary>
    public double TotalVariance => Components.Sum(c => c.Variance);

    /// <summary>
    /// Estimates the components: expected sums of squares after Searle 1971, solved from the innermost level outwards; intervals by
    /// the modified large-sample method (Ting, Burdick, Graybill, Jeyaratnam and Lu 1990; exact terms for balanced studies, approximate
    /// otherwise).
    /// </summary>
    /// <param name="readings">In any order; every level must have more groups than the one around it.</param>
    /// <param name="levels">Names of the levels, outermost first; one label per level in every reading.</param>
    /// <param name="confidence">Between 0.5 and 1; 0.95 unless said otherwise.</param>
    public static Answer<NestedAnalysis> Of(IReadOnlyList<NestedReading> readings, IReadOnlyList<string> levels, double confidence = 0.95)
    {
        ArgumentNullException.ThrowIfNull(readings);
        ArgumentNullException.ThrowIfNull(levels);
        if (Finite.Check([.. readings.Select(r => r.Value)], 3, "A nested analysis") is { } why)
        {
            return why;
        }

        if (readings.Any(r => r.Labels.Count != levels.Count) || confidence is not (> 0.5 and < 1))
        {
            return Reason.OutOfRange("A nested analysis needs one label per level in every reading, and a confidence between 0.5 and 1.");
        }

        var ladder = new NestedLadder(readings, levels.Count);
        for (int level = 1; level <= ladder.Depth; level++)
        {
            if (ladder.Freedom(level) < 1)
            {
                string name = level <= levels.Count ? levels[level - 1] : "the readings";
                return Reason.Undetermined($"The scatter of {name} can't be told from that of the level around it: it needs repeats.");
            }
        }

        int depth = ladder.Depth;
        double[] squares = [.. Enumerable.Range(1, depth).Select(ladder.SumOfSquares)];
        if (squares.Any(s => !double.IsFinite(s)))
        {
            return Reason.OutOfRange("The readings are too large to be summed.");
        }

        double[] meanSquares = [.. squares.Select((s, i) => s / ladder.Freedom(i + 1))];
        double[][] combinations = Combinations(ladder);
        double[] freedom = [.. Enumerable.Range(1, depth).Select(level => (double)ladder.Freedom(level))];
        var components = new VarianceComponent[depth];
        double errorSquared = 0;
        for (int i = 0; i < depth; i++)
        {
            double raw = combinations[i].Zip(meanSquares, (c, m) => c * m).Sum();
            (double lower, double upper) = LargeSampleLimits.Of(combinations[i], meanSquares, freedom, confidence);
            components[i] = new VarianceComponent(
                i < levels.Count ? levels[i] : "reading",
                Math.Max(0, raw),
                raw,
                squares[i],
                (int)freedom[i],
                Math.Max(0, lower),
                Math.Max(0, upper));
            errorSquared += raw * ladder.Weight(0, i + 1) / readings.Count;
        }

        return new NestedAnalysis(components, ladder.Mean, Math.Sqrt(Math.Max(0, errorSquared)), confidence);
    }

    /// <summary>Each component as a combination of mean squares, from the triangular table of expected mean squares.</summary>
    private static double[][] Combinations(NestedLadder ladder)
    {
        int depth = ladder.Depth;
        var combinations = new double[depth][];
        for (int i = depth - 1; i >= 0; i--)
        {
            double own = ladder.Coefficient(i + 1, i + 1) / ladder.Freedom(i + 1);
            var combination = new double[depth];
            combination[i] = 1 / own;
            for (int deeper = i + 1; deeper < depth; deeper++)
            {
                double share = ladder.Coefficient(i + 1, deeper + 1) / ladder.Freedom(i + 1) / own;
                for (int k = 0; k < depth; k++)
                {
                    combination[k] -= share * combinations[deeper][k];
                }
            }

            combinations[i] = combination;
        }

        return combinations;
    }
}
