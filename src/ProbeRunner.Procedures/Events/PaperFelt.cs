using System.Collections.Immutable;
using ProbeRunner.Metrology.Thresholds;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Procedures.Events;

/// <summary>The person said what the paper does at a height, or took that back.</summary>
/// <param name="Take">Which take, from 1.</param>
/// <param name="Answers">All answers of the take that count, in order.</param>
/// <param name="Estimate">Where the paper begins to drag, as far as they say; null while it was only free.</param>
/// <param name="WantedHalfWidthMm">Half width of the 95 % interval at which the take is done.</param>
/// <param name="MostAnswers">Answers after which it is done in any case.</param>
public sealed record PaperFelt(
    TimeSpan At, string Step, int Take, ImmutableArray<FeltHeight> Answers, ThresholdEstimate? Estimate, double WantedHalfWidthMm, int MostAnswers) : RunEvent(At);
