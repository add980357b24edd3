namespace ProbeRunner.Metrology.Thresholds;

/// <summary>One question and its yes-or-no answer.</summary>
/// <param name="Height">The height asked about, mm (or any other scale).</param>
/// <param name="Felt">Whether drag was felt.</param>
public readonly record struct Trial(double Height, bool Felt);
