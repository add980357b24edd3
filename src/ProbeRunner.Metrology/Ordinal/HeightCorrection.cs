using ProbeRunner.Metrology.Distributions;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Ordinal;

/// <summary>
/// How far the nozzle must be moved, from patches judged gaps, good or ridges. The true gap of every patch is its expected gap plus one
/// common error; a patch looks like ridges below the adhesion window, like gaps above it. Cumulative probit model with known cut points
/// (P. McCullagh, Regression models for ordinal data, J. R. Statist. Soc. B 42 (1980) 109-142), the error's posterior over an even grid,
/// the spread of the eye averaged over a range of spreads.
/// </summary>
/// <param name="CorrectionMm">Add this to the nozzle's height, mm; negative brings it nearer to the bed.</param>
/// <param name="StandardUncertaintyMm">Standard deviation of the posterior.</param>
/// <param name="LowerMm">Lower end of the interval.</param>
/// <param name="UpperMm">Upper end of the interval.</param>
/// <param name="Confidence">Of the interval, 0 to 1.</param>
public sealed record HeightCorrection(double CorrectionMm, double StandardUncertaintyMm, double LowerMm, double UpperMm, double Confidence)
{
    /// <summary>Errors beyond this are not a matter of a first layer, mm.</summary>
    public const double LargestErrorMm = 0.3;

    private const double GridMm = 0.0005;
    private const double Lapse = 0.02;

    /// <summary>Spreads of an eye's judgement in terms of the gap, mm; from memory, no source: a careful eye tells a few hundredths.</summary>
    private static readonly double[] Spreads = [0.003, 0.006, 0.012, 0.02, 0.03, 0.045];

    /// <summary>The correction with something more to be made good, independent of the patches' looks.</summary>
    /// <param name="byMm">To be added, mm.</param>
    /// <param name="standardUncertaintyMm">Of it, normal, mm.</param>
    public HeightCorrection And(double byMm, double standardUncertaintyMm)
    {
        double factor = StandardNormal.Quantile((1 + Confidence) / 2);
        return new(
            CorrectionMm + byMm,
            double.Hypot(StandardUncertaintyMm, standardUncertaintyMm),
            CorrectionMm + byMm - double.Hypot(CorrectionMm - LowerMm, factor * standardUncertaintyMm),
            CorrectionMm + byMm + double.Hypot(UpperMm - CorrectionMm, factor * standardUncertaintyMm),
            Confidence);
    }

    /// <summary>Fits the correction.</summary>
    /// <param name="patches">At least three.</param>
    /// <param name="lowestGapMm">Below this plastic is squeezed into ridges.</param>
    /// <param name="highestGapMm">Above this lines don't join.</param>
    /// <param name="confidence">0.5 to 0.999.</param>
    /// <param name="priorSigmaMm">Standard deviation of the error before any patch was seen, about 0; null when nothing is known of it.</param>
    public static Answer<HeightCorrection> Of(
        IReadOnlyList<JudgedPatch> patches, double lowestGapMm, double highestGapMm, double confidence = 0.95, double? priorSigmaMm = null)
    {
        ArgumentNullException.ThrowIfNull(patches);
        if (Finite.Check([.. patches.Select(patch => patch.ExpectedGapMm)], 3, "A height correction") is { } why)
        {
            return why;
        }

        if (!(lowestGapMm > 0 && highestGapMm > lowestGapMm && double.IsFinite(highestGapMm)) || confidence is not (>= 0.5 and <= 0.999))
        {
            return Reason.OutOfRange("The adhesion window must be above 0 and not empty, the confidence 0.5 to 0.999.");
        }

        int count = (int)Math.Round(2 * LargestErrorMm / GridMm) + 1;
        double[] errors = [.. Enumerable.Range(0, count).Select(index => (index * GridMm) - LargestErrorMm)];
        double[] weights = Posterior(patches, lowestGapMm, highestGapMm, errors, priorSigmaMm ?? double.PositiveInfinity);
        double mean = errors.Zip(weights, (error, weight) => error * weight).Sum();
        double variance = errors.Zip(weights, (error, weight) => weight * (error - mean) * (error - mean)).Sum();
        double tail = (1 - confidence) / 2;
        return new HeightCorrection(-mean, Math.Sqrt(variance), -Quantile(errors, weights, 1 - tail), -Quantile(errors, weights, tail), confidence);
    }

    private static double[] Posterior(IReadOnlyList<JudgedPatch> patches, double lowest, double highest, double[] errors, double prior)
    {
        double[][] logs = [.. Spreads.Select(spread => errors.Select(error => patches.Sum(patch => Math.Log(Chance(patch, error, spread, lowest, highest)))).ToArray())];
        double top = logs.Max(row => row.Max());
        double[] weights = [.. errors.Select((_, index) => logs.Sum(row => Math.Exp(row[index] - top)) * Math.Exp(-0.5 * Math.Pow(errors[index] / prior, 2)))];
        double sum = weights.Sum();
        return [.. weights.Select(weight => weight / sum)];
    }

    private static double Chance(JudgedPatch patch, double error, double spread, double lowest, double highest)
    {
        double gap = patch.ExpectedGapMm + error;
        double sigma = double.Hypot(spread, patch.StandardUncertaintyMm);
        double ridges = StandardNormal.Below((lowest - gap) / sigma), gaps = StandardNormal.Below((gap - highest) / sigma);
        double seen = patch.Look switch
        {
            PatchLook.Ridges => ridges,
            PatchLook.Gaps => gaps,
            _ => Math.Max(0, 1 - ridges - gaps),
        };
        return ((1 - Lapse) * seen) + (Lapse / 3);
    }

    private static double Quantile(double[] errors, double[] weights, double part)
    {
        double sum = 0;
        for (int index = 0; index < errors.Length; index++)
        {
            sum += weights[index];
            if (sum >= part)
            {
                return errors[index];
            }
        }

        return errors[^1];
    }
}
