using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Thresholds;

/// <summary>Share of yes at one height after pooling.</summary>
/// <param name="Height">The height.</param>
/// <param name="Asked">Questions asked there.</param>
/// <param name="Share">Share of yes, never turning back along the heights.</param>
public sealed record IsotonicPoint(double Height, int Asked, double Share);

/// <summary>Shares of yes that rise (or fall) with height, and nothing else assumed: pooling of adjacent violators (Ayer and others 1955).</summary>
/// <param name="Points">One per height, lowest first.</param>
/// <param name="Rising">Whether yes becomes more frequent upwards.</param>
public sealed record Isotonic(IReadOnlyList<IsotonicPoint> Points, bool Rising)
{
    /// <summary>Pools the answers; one trial or more.</summary>
    /// <param name="trials">In any order.</param>
    /// <param name="rising">True when yes becomes more frequent upwards; for paper, where drag is felt low down, false.</param>
    public static Answer<Isotonic> Of(IReadOnlyList<Trial> trials, bool rising = true)
    {
        ArgumentNullException.ThrowIfNull(trials);
        if (Finite.Check([.. trials.Select(t => t.Height)], 1, "An isotonic estimate") is { } why)
        {
            return why;
        }

        var blocks = new List<(double Yes, int Asked, int Heights)>();
        (double Height, int Asked, double Yes)[] heights = [.. trials
            .GroupBy(t => t.Height)
            .Select(g => (g.Key, g.Count(), (double)g.Count(t => t.Felt == rising)))
            .OrderBy(h => h.Key)];
        foreach ((_, int asked, double yes) in heights)
        {
            blocks.Add((yes, asked, 1));
            while (blocks.Count > 1 && blocks[^2].Yes / blocks[^2].Asked >= blocks[^1].Yes / blocks[^1].Asked)
            {
                (double yesAbove, int askedAbove, int heightsAbove) = blocks[^1];
                blocks.RemoveAt(blocks.Count - 1);
                blocks[^1] = (blocks[^1].Yes + yesAbove, blocks[^1].Asked + askedAbove, blocks[^1].Heights + heightsAbove);
            }
        }

        double[] shares = [.. blocks.SelectMany(b => Enumerable.Repeat(b.Yes / b.Asked, b.Heights))];
        return new Isotonic(
            [.. heights.Zip(shares, (h, share) => new IsotonicPoint(h.Height, h.Asked, rising ? share : 1 - share))],
            rising);
    }

    /// <summary>The height at which the share passes one half, straight between neighbours; refused when it never does.</summary>
    public Answer<double> Threshold()
    {
        for (int i = 1; i < Points.Count; i++)
        {
            double before = Points[i - 1].Share - 0.5;
            double after = Points[i].Share - 0.5;
            if (before == 0 && after == 0)
            {
                return (Points[i - 1].Height + Points[i].Height) / 2;
            }

            if (before * after <= 0)
            {
                return Points[i - 1].Height + ((Points[i].Height - Points[i - 1].Height) * before / (before - after));
            }
        }

        return Reason.Undetermined("The share of yes never passes one half within the heights asked about.");
    }
}
