using ProbeRunner.Metrology.Thresholds;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Procedures.Events;

/// <summary>The person said what the paper does at a height.</summary>
/// <param name="Answer">The height with the answer.</param>
/// <param name="Estimate">Where the paper begins to drag, as far as the answers say; null while it was only free.</param>
/// <param name="WantedHalfWidthMm">Half width of the 95 % interval at which the take is done.</param>
/// <param name="MostAnswers">Answers after which it is done in any case.</param>
public sealed record PaperFelt(
    TimeSpan At, string Step, FeltHeight Answer, ThresholdEstimate? Estimate, double WantedHalfWidthMm, int MostAnswers) : RunEvent(At);
