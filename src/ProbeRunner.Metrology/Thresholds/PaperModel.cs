namespace ProbeRunner.Metrology.Thresholds;

/// <summary>What is assumed of the person and the paper before the first answer.</summary>
/// <param name="Lapse">Share of answers that have nothing to do with the height; 0 to 0.2, 0.03 unless said otherwise.</param>
/// <param name="PersonSigmaMm">Median of the prior of the person's own standard deviation, mm; 0.020 unless said otherwise.</param>
/// <param name="PersonSpread">Standard deviation of its logarithm; 0.5 unless said otherwise.</param>
/// <param name="DragBandMm">Median of the prior of the height from first drag down to pinched, mm; 0.035 unless said otherwise.</param>
/// <param name="DragBandSpread">Standard deviation of its logarithm; 0.6 unless said otherwise.</param>
public sealed record PaperModel(
    double Lapse = 0.03,
    double PersonSigmaMm = 0.020,
    double PersonSpread = 0.5,
    double DragBandMm = 0.035,
    double DragBandSpread = 0.6);
