namespace ProbeRunner.Metrology.Thresholds;

/// <summary>One answer of a paper test.</summary>
/// <param name="HeightMm">Nozzle height asked about, mm.</param>
/// <param name="Felt">What was felt.</param>
public readonly record struct FeltAnswer(double HeightMm, PaperAnswer Felt);
