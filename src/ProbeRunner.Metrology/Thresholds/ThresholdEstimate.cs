namespace ProbeRunner.Metrology.Thresholds;

/// <summary>Where the paper begins to drag, as far as the answers say.</summary>
/// <param name="ThresholdMm">Height, mm, at which this person feels drag half of the time.</param>
/// <param name="StandardErrorMm">Its standard uncertainty, mm.</param>
/// <param name="LowerMm">Lower limit of the 95 % interval, mm.</param>
/// <param name="UpperMm">Upper limit of the 95 % interval, mm.</param>
/// <param name="PersonSigmaMm">How sharply this person feels: the standard deviation of the height at which drag is noticed, mm.</param>
public sealed record ThresholdEstimate(double ThresholdMm, double StandardErrorMm, double LowerMm, double UpperMm, double PersonSigmaMm);
