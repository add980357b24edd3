namespace ProbeRunner.Metrology.Verdicts;

/// <summary>Constants of a type-1 gauge study: houses differ, so they are stated.</summary>
/// <param name="ToleranceShare">Share of the tolerance given to the gauge; 0.2 usual (ISO 22514-7, VDA 5).</param>
/// <param name="SigmaSpan">Standard deviations that the gauge's spread is taken to span; 6 usual, 4 in some houses.</param>
/// <param name="Limit">Smallest Cg and Cgk that pass; 1.33 usual.</param>
/// <param name="FewestReadings">Below this many readings the study is refused; 25 usual, 50 better.</param>
/// <param name="Significance">p-value below which drift or autocorrelation refuses the study; 0.01.</param>
public sealed record CapabilityConstants(
    double ToleranceShare = 0.2,
    double SigmaSpan = 6,
    double Limit = 1.33,
    int FewestReadings = 25,
    double Significance = 0.01);
