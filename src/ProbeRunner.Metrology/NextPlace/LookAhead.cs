using ProbeRunner.Metrology.JointModel;
using ProbeRunner.Metrology.LinearAlgebra;

namespace ProbeRunner.Metrology.NextPlace;

/// <summary>
/// Foresees by how much a touch at each candidate place would lower the map's variance, summed over the printable area
/// (the integrated variance criterion; Sacks, Welch, Mitchell and Wynn, Statistical Science 4, 1989), without knowing what it would read.
/// </summary>
internal sealed class LookAhead
{
    private const int MostProcesses = 3;

    /// <summary>Gains nearer than this part are equal; the earlier candidate is taken.</summary>
    private const double Tie = 1e-9;

    private readonly Place[] candidates;
    private readonly double[] targetWeights;
    private readonly Process[] processes;

    public LookAhead(SurfacePosterior posterior, Place[] targets, Place[] candidates)
    {
        this.candidates = candidates;
        targetWeights = [.. targets.Select(t => posterior.ScaleAt(t.X, t.Y))];
        processes =
        [
            .. posterior.Processes.OfType<ScatteredProcess>().Take(MostProcesses).Select(process => new Process(process, targets, candidates)),
        ];
    }

    /// <summary>The candidate that helps most; afterwards it counts as touched.</summary>
    public int TakeBest()
    {
        (double most, int best) = (-1, 0);
        for (int c = 0; c < candidates.Length; c++)
        {
            double gain = processes.Sum(process => process.Gain(c, targetWeights));
            (most, best) = gain > most * (1 + Tie) ? (gain, c) : (most, best);
        }

        foreach (Process process in processes)
        {
            process.Touch(best);
        }

        return best;
    }

    /// <summary>Covariances of one process between targets and candidates, kept up to date as candidates are touched.</summary>
    private sealed class Process
    {
        private readonly double weight;
        private readonly double noise;
        private readonly double[][] toTargets;
        private readonly double[][] toCandidates;

        public Process(ScatteredProcess process, Place[] targets, Place[] candidates)
        {
            weight = process.Setting.Weight;
            noise = process.Setting.Noise * process.Setting.Noise;
            (double[] Readings, double[] Trend)[] targetFactors = [.. targets.Select(t => process.FactorsAt(t.X, t.Y))];
            (double[] Readings, double[] Trend)[] candidateFactors = [.. candidates.Select(c => process.FactorsAt(c.X, c.Y))];
            toTargets = Covariances(process.Setting, candidates, candidateFactors, targets, targetFactors);
            toCandidates = Covariances(process.Setting, candidates, candidateFactors, candidates, candidateFactors);
        }

        public double Gain(int candidate, double[] targetWeights)
        {
            double[] covariances = toTargets[candidate];
            double sum = 0;
            for (int t = 0; t < covariances.Length; t++)
            {
                sum += targetWeights[t] * covariances[t] * covariances[t];
            }

            return weight * sum / (toCandidates[candidate][candidate] + noise);
        }

        public void Touch(int candidate)
        {
            double[] own = [.. toCandidates[candidate]], targets = [.. toTargets[candidate]];
            double variance = own[candidate] + noise;
            for (int c = 0; c < own.Length; c++)
            {
                double share = own[c] / variance;
                RowOperations.AddScaled(toTargets[c], targets, -share);
                RowOperations.AddScaled(toCandidates[c], own, -share);
            }
        }

        private static double[][] Covariances(
            HyperParameters setting, Place[] from, (double[] Readings, double[] Trend)[] fromFactors, Place[] to, (double[] Readings, double[] Trend)[] toFactors)
        {
            return
            [
                .. from.Select((a, i) =>
                {
                    double[] row = ScatteredProcess.Covariances(setting, [.. to.Select(a.DistanceTo)]);
                    for (int j = 0; j < row.Length; j++)
                    {
                        row[j] = row[j] - RowOperations.Dot(fromFactors[i].Readings, toFactors[j].Readings)
                            + RowOperations.Dot(fromFactors[i].Trend, toFactors[j].Trend);
                    }

                    return row;
                }),
            ];
        }
    }
}
