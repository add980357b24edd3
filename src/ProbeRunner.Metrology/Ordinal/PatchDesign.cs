using System.Collections.Immutable;

namespace ProbeRunner.Metrology.Ordinal;

/// <summary>
/// Gaps at which patches tell most about the nozzle's height: a look changes only at the ends of the adhesion window, so patches are laid
/// about both ends, ramped in coarse steps while nothing is known, then about where the ends are believed to be. Low and high ones
/// alternate, so that no part of the bed gets all of a kind.
/// </summary>
public static class PatchDesign
{
    /// <summary>Steps inwards from each end, mm: one of 0 tells the error's sign, the others its size.</summary>
    private static readonly double[] Ramp = [0, 0.05, 0.025, 0.075];

    /// <summary>Steps about a believed end, in standard uncertainties of the belief.</summary>
    private static readonly double[] About = [0, -0.8, 0.8, 0.4, -0.4];

    /// <summary>The finest step worth laying: below this nobody sees a difference, mm.</summary>
    private const double FinestMm = 0.004;

    /// <summary>Gaps for the first patches.</summary>
    public static ImmutableArray<double> Coarse(double lowestGapMm, double highestGapMm, int count) =>
        [.. Enumerable.Range(0, count).Select(index => Ramp[index / 2 % Ramp.Length] is var step && index % 2 == 0 ? lowestGapMm + step : highestGapMm - step)];

    /// <summary>Gaps, as they would be without any error, for patches that refine what is known of it.</summary>
    public static ImmutableArray<double> Fine(HeightCorrection known, double lowestGapMm, double highestGapMm, int count)
    {
        ArgumentNullException.ThrowIfNull(known);
        double step = Math.Max(known.StandardUncertaintyMm, FinestMm);
        return
        [
            .. Enumerable.Range(0, count).Select(index =>
                (index % 2 == 0 ? lowestGapMm : highestGapMm) + known.CorrectionMm + (About[index / 2 % About.Length] * step)),
        ];
    }

    /// <summary>
    /// Gaps of two patches side by side that check a map at one place: both good, the gap there is within the margin of what was predicted;
    /// ridges or gaps, it is not, and on which side.
    /// </summary>
    public static (double Low, double High) Check(HeightCorrection known, double lowestGapMm, double highestGapMm, double marginMm)
    {
        ArgumentNullException.ThrowIfNull(known);
        return (lowestGapMm + known.CorrectionMm + marginMm, highestGapMm + known.CorrectionMm - marginMm);
    }
}
