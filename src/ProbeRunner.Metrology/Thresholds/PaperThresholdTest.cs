namespace ProbeRunner.Metrology.Thresholds;

/// <summary>
/// The adaptive paper test: after each answer, belief over threshold, person's sigma and drag band is updated, and the next height
/// is the one that is expected to leave the threshold's variance smallest (as in King-Smith and others 1994, with a slope and three
/// answers). Immutable. Heights are signed nozzle Z, mm: the paper is free high up and drags low down.
/// </summary>
public sealed record PaperThresholdTest
{
    /// <summary>Heights compared when choosing the next one.</summary>
    private const int Candidates = 24;

    private readonly PaperGrid grid;
    private readonly PaperBelief belief;

    private PaperThresholdTest(PaperGrid grid, PaperBelief belief, int answers)
    {
        this.grid = grid;
        this.belief = belief;
        Answers = answers;
    }

    /// <summary>Answers taken in so far.</summary>
    public int Answers { get; }

    /// <summary>What is believed now.</summary>
    public ThresholdEstimate Estimate => belief.Estimate;

    /// <summary>A test that knows only that the threshold lies between two heights.</summary>
    /// <param name="lowestMm">Lowest possible threshold, mm.</param>
    /// <param name="highestMm">Highest possible threshold, mm; above the lowest.</param>
    /// <param name="model">What is assumed of person and paper; the usual when null.</param>
    /// <exception cref="ArgumentOutOfRangeException">A height is not finite, or the heights are not in order.</exception>
    public static PaperThresholdTest Start(double lowestMm, double highestMm, PaperModel? model = null)
    {
        if (!double.IsFinite(lowestMm) || !double.IsFinite(highestMm) || lowestMm >= highestMm)
        {
            throw new ArgumentOutOfRangeException(nameof(highestMm), "Two finite heights are needed, the lowest first.");
        }

        var grid = new PaperGrid(lowestMm, highestMm, model ?? new PaperModel());
        return new PaperThresholdTest(grid, new PaperBelief(grid), 0);
    }

    /// <summary>The test after one more answer.</summary>
    /// <param name="heightMm">Nozzle height at which the paper was felt, mm.</param>
    /// <param name="answer">What was felt.</param>
    /// <exception cref="ArgumentOutOfRangeException">The height is not finite or the answer is none of the three.</exception>
    public PaperThresholdTest With(double heightMm, PaperAnswer answer)
    {
        if (!double.IsFinite(heightMm))
        {
            throw new ArgumentOutOfRangeException(nameof(heightMm), "A finite height is needed.");
        }

        return Enum.IsDefined(answer)
            ? new PaperThresholdTest(grid, belief.After(heightMm, answer), Answers + 1)
            : throw new ArgumentOutOfRangeException(nameof(answer), "Free, drags or pinched.");
    }

    /// <summary>The height to ask about next: the multiple of <paramref name="stepMm"/> with the smallest expected variance afterwards.</summary>
    /// <param name="stepMm">Smallest step of the machine, mm, above 0.</param>
    /// <returns>A height between the lowest threshold less its widest drag band and the highest threshold.</returns>
    public double NextHeight(double stepMm)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(stepMm);
        double reach = (2 * Estimate.StandardErrorMm) + Estimate.PersonSigmaMm;
        double stride = stepMm * Math.Max(1, Math.Round(2 * reach / Candidates / stepMm));
        double best = Estimate.ThresholdMm;
        double least = double.PositiveInfinity;
        for (double height = Math.Max(Estimate.ThresholdMm - reach, grid.Thresholds[0]); height <= Math.Min(Estimate.ThresholdMm + reach, grid.Thresholds[^1]); height += stride)
        {
            double rounded = Math.Round(height / stepMm) * stepMm;
            double variance = belief.ExpectedVariance(rounded);
            if (variance < least)
            {
                (best, least) = (rounded, variance);
            }
        }

        return Math.Round(best / stepMm) * stepMm;
    }

    /// <summary>True when the 95 % interval is no wider than plus or minus <paramref name="halfWidthMm"/>.</summary>
    public bool IsDone(double halfWidthMm) => (Estimate.UpperMm - Estimate.LowerMm) / 2 <= halfWidthMm;
}
