using ProbeRunner.Machine.Touches;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Procedures.Events;

/// <summary>A run that was taken up again went over a reading on record; it was told when it was taken.</summary>
public sealed record ReadingRecalled(TimeSpan At, string Step, Reading Reading) : RunEvent(At);

/// <summary>A run that was taken up again went over a step that is done; its end was told then.</summary>
/// <param name="Index">From 0.</param>
/// <param name="Conclusion">What it concluded.</param>
public sealed record StepRecalled(TimeSpan At, string Step, int Index, StepConclusion Conclusion) : RunEvent(At);
