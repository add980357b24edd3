namespace ProbeRunner.Metrology.Thresholds;

/// <summary>Whether paper drags where an offset promises that it does.</summary>
/// <param name="DifferenceMm">Drag height less promised height, mm.</param>
/// <param name="AllowedMm">The largest difference that is taken for kept, mm.</param>
public readonly record struct DragPromise(double DifferenceMm, double AllowedMm)
{
    /// <summary>Whether the promise is kept.</summary>
    public bool IsKept => Math.Abs(DifferenceMm) <= AllowedMm;

    /// <summary>
    /// Judges: allowed is the tolerance and twice the standard uncertainty of the comparison, that is of the drag height and of the homing it
    /// rests on (coverage factor 2, JCGM 100:2008, 6.3.3), so that noise alone is rarely taken for an error.
    /// </summary>
    /// <param name="dragMm">Height at which the paper dragged, mm.</param>
    /// <param name="dragStandardErrorMm">Its standard uncertainty, mm.</param>
    /// <param name="promisedMm">Where it should, mm.</param>
    /// <param name="toleranceMm">How far off is good enough, mm.</param>
    /// <param name="homingSigmaMm">Standard deviation of one homing, mm.</param>
    public static DragPromise Of(double dragMm, double dragStandardErrorMm, double promisedMm, double toleranceMm, double homingSigmaMm) => new(
        dragMm - promisedMm,
        toleranceMm + (2 * Math.Sqrt((dragStandardErrorMm * dragStandardErrorMm) + (homingSigmaMm * homingSigmaMm))));
}
