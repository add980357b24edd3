namespace ProbeRunner.Metrology.Ordinal;

/// <summary>How a laid patch looks, in the order of the gap it was laid over.</summary>
public enum PatchLook
{
    /// <summary>Squeezed out into ridges: the nozzle was too near.</summary>
    Ridges,

    /// <summary>Closed and smooth.</summary>
    Good,

    /// <summary>Gaps between its lines: the nozzle was too far.</summary>
    Gaps,
}

/// <summary>A patch and what a person saw.</summary>
/// <param name="ExpectedGapMm">The gap it was meant to be laid over: commanded height plus what the map predicts there, mm.</param>
/// <param name="Look">What was seen.</param>
/// <param name="StandardUncertaintyMm">Of the expected gap at this place alone, the common error not counted, mm; 0 when nothing is known of it.</param>
public readonly record struct JudgedPatch(double ExpectedGapMm, PatchLook Look, double StandardUncertaintyMm = 0);
