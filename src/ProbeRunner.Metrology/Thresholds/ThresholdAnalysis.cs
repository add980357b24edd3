using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Thresholds;

/// <summary>A threshold from yes-or-no answers, by the best method that the answers allow.</summary>
/// <param name="Threshold">Height at which half of the answers are yes.</param>
/// <param name="StandardError">Its standard uncertainty.</param>
/// <param name="Scale">The person's sigma.</param>
/// <param name="Method">How it was found, in words.</param>
public sealed record ThresholdAnalysis(double Threshold, double StandardError, double Scale, string Method)
{
    /// <summary>Maximum likelihood with a probit; where that has no maximum because the answers change over cleanly, the middle of the gap.</summary>
    /// <param name="trials">Three or more, with both answers among them.</param>
    public static Answer<ThresholdAnalysis> Of(IReadOnlyList<Trial> trials)
    {
        Answer<BinaryRegression> fit = BinaryRegression.Of(trials);
        if (fit is Known<BinaryRegression> { Content: var probit })
        {
            return new ThresholdAnalysis(probit.Threshold, probit.ThresholdStandardError, probit.Scale, "probit maximum likelihood");
        }

        double[] yes = [.. trials.Where(t => t.Felt).Select(t => t.Height)];
        double[] no = [.. trials.Where(t => !t.Felt).Select(t => t.Height)];
        if (fit.Refusal!.Kind != RefusalKind.Undetermined || yes.Length == 0 || no.Length == 0)
        {
            return fit.Refusal;
        }

        bool rising = yes.Min() >= no.Max();
        if (!rising && yes.Max() > no.Min())
        {
            return fit.Refusal;
        }

        (double low, double high) = rising ? (no.Max(), yes.Min()) : (yes.Max(), no.Min());
        double half = (high - low) / 2;
        return new ThresholdAnalysis(low + half, half / Math.Sqrt(3), half / Math.Sqrt(3), "middle of the gap between yes and no, taken as rectangular");
    }
}
