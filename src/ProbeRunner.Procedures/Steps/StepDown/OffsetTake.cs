using ProbeRunner.Metrology.Thresholds;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Procedures.Steps.StepDown;

/// <summary>One take: the ground it rests on and where the paper dragged.</summary>
internal sealed record OffsetTake(PaperGround Ground, PaperTakeResult Result)
{
    /// <summary>What the offset is made of; null when the paper's drag was not found.</summary>
    public PaperTakeHeights? Heights => Result.Drag is { } drag ? new PaperTakeHeights(Ground.Heights, drag.ThresholdMm, drag.StandardErrorMm) : null;

    /// <summary>The person's own repeatability over takes; null when too few answers tell.</summary>
    public static PersonScatter? Person(IEnumerable<OffsetTake> takes)
    {
        PersonRepeatability? found = PersonRepeatability.Of([.. takes.Where(take => take.Heights is not null).Select(take => (Answers(take), take.Heights!.DragMm))]).OrElse(null);
        return found is null ? null : new PersonScatter(found.SigmaMm, found.LowerMm, found.UpperMm);
    }

    private static IReadOnlyList<FeltAnswer> Answers(OffsetTake take) =>
        [.. take.Result.Answers.Select(answer => new FeltAnswer(answer.HeightMm, PaperWords.Meaning(answer.Felt)))];
}
