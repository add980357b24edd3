using System.Collections.Immutable;
using ProbeRunner.Metrology.Thresholds;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Procedures.Steps.StepDown;

/// <summary>How one take of the paper test is to be done.</summary>
/// <param name="Take">Which take, from 1.</param>
/// <param name="PaperPromptId">Id of the question.</param>
/// <param name="StartMm">Nozzle Z of the first question, from above.</param>
/// <param name="CoarseStepMm">Step of the first descent, at most 0.1.</param>
/// <param name="LowestMm">Nozzle Z, a multiple of the finest step, below which the descent is given up.</param>
/// <param name="HalfWidthMm">Half width of the 95 % interval at which the take is done.</param>
/// <param name="MostAnswers">Answers after which it is done in any case.</param>
/// <param name="Gauge">What lies under the nozzle, as the person calls it.</param>
/// <param name="SlowBelowMm">Nozzle Z at and below which the first descent takes steps of at most 0.05 mm: where the paper may be felt, one answer given by mistake must not lead deep into the bed.</param>
internal sealed record PaperTakePlan(
    int Take, string PaperPromptId, double StartMm, double CoarseStepMm, double LowestMm, double HalfWidthMm, int MostAnswers, string Gauge = StepDown.Gauge.Paper,
    double SlowBelowMm = double.NegativeInfinity)
{
    /// <summary>How far above the expected drag the slow descent begins when the drag is known from another take or place, mm.</summary>
    public const double SlowAboveKnownDragMm = 0.15;

    /// <summary>How far above the contact that the entered distance promises the slow descent begins, mm: the paper, and as much as the entry may be off.</summary>
    public const double SlowAboveEnteredContactMm = 0.35;
}

/// <summary>What a take came to.</summary>
/// <param name="Answers">All answers that stand, in order.</param>
/// <param name="Drag">Where the paper begins to drag; null when the take was called off or the paper never dragged.</param>
/// <param name="CalledOff">Whether the person called it off.</param>
/// <param name="FalseContact">
/// Whether the first contact was probably felt too high: the paper kept free below it, where the guard lets nothing go deeper. Such a take tells nothing.
/// </param>
/// <param name="PinDown">Whether the person saw the probe's tip down, so that nothing was done.</param>
internal sealed record PaperTakeResult(ImmutableArray<FeltHeight> Answers, ThresholdEstimate? Drag, bool CalledOff, bool FalseContact = false, bool PinDown = false)
{
    /// <summary>The person saw the probe's tip down.</summary>
    public static PaperTakeResult WithPinDown { get; } = new([], null, false, PinDown: true);
}
