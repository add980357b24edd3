using ProbeRunner.Metrology.Verdicts;

namespace ProbeRunner.Metrology.Series;

/// <summary>What is asked of a series besides its figures.</summary>
/// <param name="Limits">Limits of the verdict; the usual when null.</param>
/// <param name="Tolerance">Full width of the tolerance for a capability study, mm; none when null.</param>
/// <param name="Reference">True height for a capability study, mm; the mean itself, so that no bias is seen, when null.</param>
/// <param name="Constants">Constants of the capability study; the usual when null.</param>
/// <param name="Confidence">Of the interval of sigma, 0 to 1.</param>
public sealed record SeriesQuestion(
    SigmaLimits? Limits = null,
    double? Tolerance = null,
    double? Reference = null,
    CapabilityConstants? Constants = null,
    double Confidence = 0.95);
