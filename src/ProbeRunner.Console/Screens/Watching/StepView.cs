using ProbeRunner.Console.Screens.Pictures;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Steps;

namespace ProbeRunner.Console.Screens.Watching;

/// <summary>Where a step stands.</summary>
internal enum StepState
{
    /// <summary>Not begun.</summary>
    Waiting,

    /// <summary>Being done.</summary>
    Running,

    /// <summary>Done; its verdict says how.</summary>
    Done,

    /// <summary>Left out, because an earlier step did not come out fit.</summary>
    LeftOut,

    /// <summary>Begun and not finished when the run ended.</summary>
    CutOff,
}

/// <summary>A step as the screens show it.</summary>
/// <param name="Step">What it is, with why it is done and what good looks like.</param>
/// <param name="State">Where it stands.</param>
/// <param name="Began">Run time at which it began in this session; null when it has not.</param>
/// <param name="Took">How long it took; null while it goes on, or when it was done in an earlier session.</param>
/// <param name="Verdict">Its judgement; null before there is one.</param>
/// <param name="Readings">Readings taken in it.</param>
/// <param name="Planned">How many it plans; null when it decides as it goes.</param>
/// <param name="Picture">What its picture shows; null when it has none.</param>
/// <param name="Conclusion">What it concluded; null before it ended.</param>
internal sealed record StepView(
    Step Step,
    StepState State,
    TimeSpan? Began,
    TimeSpan? Took,
    StepVerdict? Verdict,
    int Readings,
    int? Planned,
    PictureState? Picture,
    StepConclusion? Conclusion)
{
    /// <summary>A step that has not begun.</summary>
    public static StepView Of(Step step) => new(step, StepState.Waiting, null, null, null, 0, null, null, null);
}
