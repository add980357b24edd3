namespace ProbeRunner.Metrology.Thresholds;

/// <summary>Belief over the lattice: how likely each threshold, person's sigma and drag band are after the answers so far.</summary>
internal sealed class PaperBelief
{
    /// <summary>Thresholds less likely than this no longer sway the choice of the next height.</summary>
    private const double Negligible = 1e-9;

    private readonly PaperGrid grid;
    private readonly double[] cells;
    private readonly double[] marginal;

    internal PaperBelief(PaperGrid grid)
        : this(grid, grid.Prior)
    {
    }

    private PaperBelief(PaperGrid grid, double[] cells)
    {
        this.grid = grid;
        this.cells = cells;
        marginal = new double[grid.Thresholds.Length];
        Estimate = Describe();
    }

    internal ThresholdEstimate Estimate { get; }

    /// <summary>Belief after one more answer, by Bayes's rule.</summary>
    internal PaperBelief After(double heightMm, PaperAnswer answer)
    {
        var next = new double[cells.Length];
        double total = 0;
        int cell = 0;
        foreach (double threshold in grid.Thresholds)
        {
            foreach (double sigma in grid.PersonSigmas)
            {
                double free = grid.Free(heightMm, threshold, sigma);
                foreach (double band in grid.DragBands)
                {
                    double likelihood = answer == PaperAnswer.Free ? free : grid.Pinched(heightMm, threshold, sigma, band);
                    if (answer == PaperAnswer.Drags)
                    {
                        likelihood = Math.Max(1 - free - likelihood, 1e-12);
                    }

                    next[cell] = cells[cell] * likelihood;
                    total += next[cell++];
                }
            }
        }

        for (cell = 0; cell < next.Length; cell++)
        {
            next[cell] /= total;
        }

        return new PaperBelief(grid, next);
    }

    /// <summary>Mean over the three answers of the threshold's variance after asking at a height.</summary>
    internal double ExpectedVariance(double heightMm)
    {
        double centre = Estimate.ThresholdMm;
        double freeMass = 0, freeFirst = 0, pinchedMass = 0, pinchedFirst = 0;
        int perThreshold = grid.PersonSigmas.Length * grid.DragBands.Length;
        for (int t = 0; t < marginal.Length; t++)
        {
            if (marginal[t] < Negligible)
            {
                continue;
            }

            double threshold = grid.Thresholds[t];
            double atFree = 0, atPinched = 0;
            int cell = t * perThreshold;
            foreach (double sigma in grid.PersonSigmas)
            {
                double mass = 0;
                foreach (double band in grid.DragBands)
                {
                    mass += cells[cell];
                    atPinched += cells[cell++] * grid.Pinched(heightMm, threshold, sigma, band);
                }

                atFree += mass * grid.Free(heightMm, threshold, sigma);
            }

            freeMass += atFree;
            freeFirst += atFree * (threshold - centre);
            pinchedMass += atPinched;
            pinchedFirst += atPinched * (threshold - centre);
        }

        // The answers' mean squares add up to the variance now; what their means explain is gained.
        double dragsMass = Math.Max(1 - freeMass - pinchedMass, 1e-12);
        double dragsFirst = -freeFirst - pinchedFirst;
        double variance = Estimate.StandardErrorMm * Estimate.StandardErrorMm;
        return variance - (freeFirst * freeFirst / freeMass) - (pinchedFirst * pinchedFirst / pinchedMass) - (dragsFirst * dragsFirst / dragsMass);
    }

    private ThresholdEstimate Describe()
    {
        int perThreshold = grid.PersonSigmas.Length * grid.DragBands.Length;
        double mean = 0;
        double sigma = 0;
        for (int cell = 0; cell < cells.Length; cell++)
        {
            int at = cell / perThreshold;
            marginal[at] += cells[cell];
            mean += cells[cell] * grid.Thresholds[at];
            sigma += cells[cell] * grid.PersonSigmas[cell / grid.DragBands.Length % grid.PersonSigmas.Length];
        }

        double variance = 0;
        for (int t = 0; t < marginal.Length; t++)
        {
            variance += marginal[t] * (grid.Thresholds[t] - mean) * (grid.Thresholds[t] - mean);
        }

        return new ThresholdEstimate(mean, Math.Sqrt(variance), Quantile(0.025), Quantile(0.975), sigma);
    }

    /// <summary>Quantile of the threshold, the mass of each lattice point spread evenly over its cell.</summary>
    private double Quantile(double probability)
    {
        double[] thresholds = grid.Thresholds;
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
