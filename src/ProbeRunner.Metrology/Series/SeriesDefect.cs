namespace ProbeRunner.Metrology.Series;

/// <summary>Kinds of what can be wrong with a series.</summary>
public enum SeriesDefectKind
{
    /// <summary>Readings rise or fall along the series.</summary>
    Drift,

    /// <summary>The first touches differ from the rest.</summary>
    WarmUp,

    /// <summary>Single readings stand far apart.</summary>
    Outliers,

    /// <summary>Readings click between two heights.</summary>
    TwoLevels,

    /// <summary>Readings resemble their predecessors.</summary>
    Autocorrelation,

    /// <summary>The distribution is not normal.</summary>
    NonNormal,

    /// <summary>Readings sit on a comb that is coarse for their scatter.</summary>
    Comb,

    /// <summary>A swing repeats along the series.</summary>
    Periodic,
}

/// <summary>One thing that is wrong with a series.</summary>
/// <param name="Kind">What it is.</param>
/// <param name="Size">How large, in the unit of the readings: change over the series, shift, largest outlier's distance from the median, distance of levels, step, amplitude; for autocorrelation its coefficient, for non-normality A squared.</param>
/// <param name="PValue">Chance of as much in a sound series.</param>
/// <param name="Text">One sentence for a person.</param>
public sealed record SeriesDefect(SeriesDefectKind Kind, double Size, double PValue, string Text);
