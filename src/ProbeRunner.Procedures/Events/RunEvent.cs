using ProbeRunner.Machine.Touches;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Operators;

namespace ProbeRunner.Procedures.Events;

/// <summary>Something a listener (screen, log, progress) may want to show. Listeners can never block or change a run.</summary>
/// <param name="At">Since the run began.</param>
public abstract record RunEvent(TimeSpan At);

/// <summary>The run began, or was taken up again.</summary>
public sealed record RunStarted(TimeSpan At, string RunId, string MachineName, string ScriptName, bool Resumed) : RunEvent(At);

/// <summary>A step began.</summary>
/// <param name="Step">Its name in the script.</param>
/// <param name="Title">Its name for a person.</param>
/// <param name="Index">From 0.</param>
/// <param name="Of">How many steps the script has.</param>
public sealed record StepStarted(TimeSpan At, string Step, string Title, int Index, int Of) : RunEvent(At);

/// <summary>A reading was made durable.</summary>
/// <param name="Number">The how many-th of the step, from 1.</param>
/// <param name="Planned">How many the step plans; null when it decides as it goes.</param>
public sealed record ReadingTaken(TimeSpan At, string Step, int Number, int? Planned, int Repeat, Reading Reading) : RunEvent(At);

/// <summary>How far the run is.</summary>
/// <param name="Fraction">0 to 1 of the run.</param>
/// <param name="TimeLeft">Estimate from the machine's own times; null while unknown.</param>
public sealed record ProgressMoved(TimeSpan At, string Step, double Fraction, TimeSpan? TimeLeft) : RunEvent(At);

/// <summary>The person is asked.</summary>
public sealed record PromptAsked(TimeSpan At, Prompt Prompt) : RunEvent(At);

/// <summary>The person answered.</summary>
public sealed record AnswerGiven(TimeSpan At, string PromptId, string Value) : RunEvent(At);

/// <summary>A setting of the controller was changed.</summary>
public sealed record SettingChanged(TimeSpan At, string Setting, string Before, string After) : RunEvent(At);

/// <summary>The nozzle was nudged while lines are laid.</summary>
/// <param name="ByMm">How far, up positive.</param>
/// <param name="TotalMm">All nudges together.</param>
public sealed record Nudged(TimeSpan At, double ByMm, double TotalMm) : RunEvent(At);

/// <summary>A step came to a judgement.</summary>
public sealed record VerdictReached(TimeSpan At, string Step, StepVerdict Verdict) : RunEvent(At);

/// <summary>A finding was made.</summary>
public sealed record FindingReached(TimeSpan At, Finding Finding) : RunEvent(At);

/// <summary>A line of ordinary news: what is being done.</summary>
public sealed record Remarked(TimeSpan At, string Step, string Text) : RunEvent(At);

/// <summary>Something a person should know.</summary>
public sealed record Warned(TimeSpan At, string Step, string Text) : RunEvent(At);

/// <summary>A step ended.</summary>
public sealed record StepEnded(TimeSpan At, string Step, int Index, StepConclusion Conclusion) : RunEvent(At);

/// <summary>The run ended, in whichever way.</summary>
public sealed record RunEnded(TimeSpan At, RunOutcome Outcome) : RunEvent(At);
