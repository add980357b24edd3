namespace ProbeRunner.Metrology.Thresholds;

/// <summary>
/// The adaptive paper test: after each answer, belief over threshold, person's sigma and drag band is updated, and the next height
/// is the one that is expected to leave the threshold's variance smallest. Immutable.
/// Heights are signed nozzle Z, mm: the paper is free high up and drags low down.
/// </summary>
public sealed record PaperThresholdTest
{
    private readonly PaperGrid grid;
    private readonly double[] belief;

    private PaperThresholdTest(PaperGrid grid, double[] belief, int answers)
    {
        this.grid = grid;
        this.belief = belief;
        Answers = answers;
        Estimate = Describe(grid, belief);
    }

    /// <summary>Answers taken in so far.</summary>
    public int Answers { get; }

    /// <summary>What is believed now.</summary>
    public ThresholdEstimate Estimate { get; }

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
        return new PaperThresholdTest(grid, grid.Prior, 0);
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

        (double[] free, double[] pinched) = grid.Expect(heightMm);
        var next = new double[belief.Length];
        double total = 0;
        for (int cell = 0; cell < next.Length; cell++)
        {
            double likelihood = answer switch
            {
                PaperAnswer.Free => free[cell],
                PaperAnswer.Pinched => pinched[cell],
                PaperAnswer.Drags => Math.Max(1 - free[cell] - pinched[cell], 1e-12),
                _ => throw new ArgumentOutOfRangeException(nameof(answer), "Free, drags or pinched."),
            };
            next[cell] = belief[cell] * likelihood;
            total += next[cell];
        }

        for (int cell = 0; cell < next.Length; cell++)
        {
            next[cell] /= total;
        }

        return new PaperThresholdTest(grid, next, Answers + 1);
    }

    /// <summary>The height to ask about next: the multiple of <paramref name="stepMm"/> with the smallest expected variance afterwards.</summary>
    /// <param name="stepMm">Smallest step of the machine, mm, above 0.</param>
    public double NextHeight(double stepMm)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(stepMm);
        double reach = Math.Max(2 * Estimate.StandardErrorMm, 2 * Estimate.PersonSigmaMm);
        double candidateStep = stepMm * Math.Max(1, Math.Ceiling(2 * reach / 40 / stepMm));
        double best = Math.Round(Estimate.ThresholdMm / stepMm) * stepMm;
        double least = double.PositiveInfinity;
        double lowest = grid.Thresholds[0] - reach;
        double highest = grid.Thresholds[^1];
        for (double height = Math.Round((Estimate.ThresholdMm - reach) / stepMm) * stepMm; height <= Estimate.ThresholdMm + reach; height += candidateStep)
        {
            if (height < lowest || height > highest)
            {
                continue;
            }

            double variance = ExpectedVariance(height);
            if (variance < least)
            {
                (best, least) = (height, variance);
            }
        }

        return Math.Round(best / stepMm) * stepMm;
    }

    /// <summary>True when the 95 % interval is no wider than plus or minus <paramref name="halfWidthMm"/>.</summary>
    public bool IsDone(double halfWidthMm) => (Estimate.UpperMm - Estimate.LowerMm) / 2 <= halfWidthMm;

    private double ExpectedVariance(double height)
    {
        (double[] free, double[] pinched) = grid.Expect(height);
        int cellsPerThreshold = belief.Length / grid.Thresholds.Length;
        double centre = Estimate.ThresholdMm;
        double freeMass = 0, freeFirst = 0, freeSecond = 0;
        double pinchedMass = 0, pinchedFirst = 0, pinchedSecond = 0;
        double first = 0, second = 0;
        int cell = 0;
        foreach (double threshold in grid.Thresholds)
        {
            double atFree = 0, atPinched = 0, all = 0;
            for (int i = 0; i < cellsPerThreshold; i++, cell++)
            {
                atFree += belief[cell] * free[cell];
                atPinched += belief[cell] * pinched[cell];
                all += belief[cell];
            }

            double d = threshold - centre;
            freeMass += atFree;
            freeFirst += atFree * d;
            freeSecond += atFree * d * d;
            pinchedMass += atPinched;
            pinchedFirst += atPinched * d;
            pinchedSecond += atPinched * d * d;
            first += all * d;
            second += all * d * d;
        }

        double dragsMass = Math.Max(1 - freeMass - pinchedMass, 1e-12);
        double dragsFirst = first - freeFirst - pinchedFirst;
        return second - (freeFirst * freeFirst / freeMass) - (pinchedFirst * pinchedFirst / pinchedMass) - (dragsFirst * dragsFirst / dragsMass);
    }

    private static ThresholdEstimate Describe(PaperGrid grid, double[] belief)
    {
        int cellsPerThreshold = belief.Length / grid.Thresholds.Length;
        var marginal = new double[grid.Thresholds.Length];
        double mean = 0;
        double sigma = 0;
        for (int cell = 0; cell < belief.Length; cell++)
        {
            marginal[cell / cellsPerThreshold] += belief[cell];
            mean += belief[cell] * grid.ThresholdOf(cell);
            sigma += belief[cell] * grid.SigmaOf(cell);
        }

        double variance = 0;
        for (int t = 0; t < marginal.Length; t++)
        {
            variance += marginal[t] * (grid.Thresholds[t] - mean) * (grid.Thresholds[t] - mean);
        }

        return new ThresholdEstimate(mean, Math.Sqrt(variance), Quantile(grid.Thresholds, marginal, 0.025), Quantile(grid.Thresholds, marginal, 0.975), sigma);
    }

    /// <summary>Quantile of a marginal, each of whose masses is spread evenly over its cell.</summary>
    private static double Quantile(double[] thresholds, double[] marginal, double probability)
    {
        double step = thresholds[1] - thresholds[0];
        double below = 0;
        for (int t = 0; t < marginal.Length; t++)
        {
            if (below + marginal[t] >= probability)
            {
                double share = marginal[t] > 0 ? (probability - below) / marginal[t] : 0.5;
                return thresholds[t] + (step * (share - 0.5));
            }

            below += marginal[t];
        }

        return thresholds[^1];
    }
}
