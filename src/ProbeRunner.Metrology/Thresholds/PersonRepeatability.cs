using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Thresholds;

/// <summary>
/// How well a person repeats: the standard deviation of the height at which drag is noticed, from all answers of all takes. Belief over a
/// lattice by Bayes's rule: equally likely beforehand on a logarithmic scale from 0.002 to 0.1 mm; each take's own threshold, and the paper's
/// drag band, are integrated over, so that a height that differs between takes is not taken for the person's scatter.
/// </summary>
/// <param name="SigmaMm">Median of the belief, mm.</param>
/// <param name="LowerMm">2.5 % quantile, mm.</param>
/// <param name="UpperMm">97.5 % quantile, mm.</param>
/// <param name="Answers">How many answers it rests on.</param>
public sealed record PersonRepeatability(double SigmaMm, double LowerMm, double UpperMm, int Answers)
{
    private const int Sigmas = 50;
    private const int Thresholds = 41;
    private const double LeastMm = 0.002;
    private const double MostMm = 0.1;
    private const double ReachMm = 0.12;
    private static readonly double[] Bands = [0.01, 0.02, 0.035, 0.06, 0.1];

    /// <summary>Judges a person by the answers of takes; one take of four answers at least.</summary>
    /// <param name="takes">The answers of each take, and where its threshold was found.</param>
    /// <param name="lapse">Share of answers that have nothing to do with the height, 0 to 0.2.</param>
    public static Answer<PersonRepeatability> Of(IReadOnlyList<(IReadOnlyList<FeltAnswer> Answers, double ThresholdMm)> takes, double lapse = 0.03)
    {
        ArgumentNullException.ThrowIfNull(takes);
        int answers = takes.Sum(take => take.Answers.Count);
        if (answers < 4)
        {
            return Reason.TooFew("A person's repeatability", 4, answers);
        }

        if (lapse is not (>= 0 and <= 0.2) || takes.Any(take => !double.IsFinite(take.ThresholdMm) || take.Answers.Any(answer => !double.IsFinite(answer.HeightMm))))
        {
            return Reason.OutOfRange("A person's repeatability needs finite heights and a lapse of 0 to 0.2.");
        }

        double[] logs = [.. Enumerable.Range(0, Sigmas).Select(index => takes.Sum(take => LogLikelihood(take.Answers, take.ThresholdMm, SigmaAt(index), lapse)))];
        double largest = logs.Max();
        double[] weights = [.. logs.Select(log => Math.Exp(log - largest))];
        return new PersonRepeatability(Quantile(weights, 0.5), Quantile(weights, 0.025), Quantile(weights, 0.975), answers);
    }

    private static double SigmaAt(double index) => LeastMm * Math.Pow(MostMm / LeastMm, index / (Sigmas - 1));

    /// <summary>Logarithm of the likelihood of one take's answers, its threshold and band integrated over.</summary>
    private static double LogLikelihood(IReadOnlyList<FeltAnswer> answers, double thresholdMm, double sigma, double lapse)
    {
        double sum = 0;
        for (int cell = 0; cell < Thresholds; cell++)
        {
            double threshold = thresholdMm + (ReachMm * ((2.0 * cell / (Thresholds - 1)) - 1) / 2);
            foreach (double band in Bands)
            {
                sum += answers.Aggregate(1.0, (product, answer) => product * Likelihood(answer, threshold, sigma, band, lapse));
            }
        }

        return Math.Log(Math.Max(sum, double.Epsilon));
    }

    private static double Likelihood(FeltAnswer answer, double threshold, double sigma, double band, double lapse)
    {
        double free = NormalTable.Below((answer.HeightMm - threshold) / sigma);
        double pinched = NormalTable.Below((threshold - band - answer.HeightMm) / sigma);
        double felt = answer.Felt switch
        {
            PaperAnswer.Free => free,
            PaperAnswer.Pinched => pinched,
            _ => Math.Max(1 - free - pinched, 0),
        };
        return ((1 - lapse) * felt) + (lapse / 3);
    }

    /// <summary>Quantile on the logarithmic lattice, the mass of each point spread evenly over its cell.</summary>
    private static double Quantile(double[] weights, double probability)
    {
        double left = probability * weights.Sum();
        for (int index = 0; index < weights.Length; index++)
        {
            if (left <= weights[index])
            {
                return SigmaAt(Math.Clamp(index + (left / weights[index]) - 0.5, 0, Sigmas - 1));
            }

            left -= weights[index];
        }

        return MostMm;
    }
}
