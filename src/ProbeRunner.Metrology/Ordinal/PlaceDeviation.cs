namespace ProbeRunner.Metrology.Ordinal;

/// <summary>How far the gap at one place may be from what a map predicts there, by the looks of patches laid at the place.</summary>
/// <param name="LeastMm">It is at least this much wider than predicted, mm; negative infinity when no patch says so.</param>
/// <param name="MostMm">It is at most this much wider, mm; positive infinity when no patch says so.</param>
public readonly record struct PlaceDeviation(double LeastMm, double MostMm)
{
    /// <summary>Taken together from patches at the place; their expected gaps as predicted, the correction known taken into account.</summary>
    public static PlaceDeviation Of(IEnumerable<JudgedPatch> patches, HeightCorrection known, double lowestGapMm, double highestGapMm)
    {
        ArgumentNullException.ThrowIfNull(patches);
        ArgumentNullException.ThrowIfNull(known);
        var all = new PlaceDeviation(double.NegativeInfinity, double.PositiveInfinity);
        foreach (JudgedPatch patch in patches)
        {
            // Over the true gap, expected - correction + deviation, the patch looked as it did.
            double toLowest = lowestGapMm - (patch.ExpectedGapMm - known.CorrectionMm);
            double toHighest = highestGapMm - (patch.ExpectedGapMm - known.CorrectionMm);
            all = patch.Look switch
            {
                PatchLook.Ridges => all with { MostMm = Math.Min(all.MostMm, toLowest) },
                PatchLook.Gaps => all with { LeastMm = Math.Max(all.LeastMm, toHighest) },
                _ => new PlaceDeviation(Math.Max(all.LeastMm, toLowest), Math.Min(all.MostMm, toHighest)),
            };
        }

        return all;
    }
}
