using ProbeRunner.Procedures.Operators;

namespace ProbeRunner.Procedures.Journal;

// What the rows of a journal carry, so that writer and reader agree. A fact's request is JSON with a "kind"; the record looks at these kinds:
// FactKinds.Touch, whose reply is a Reading, FactKinds.Identify, and FactKinds.Ask, whose request is an AskRequest and whose reply is an Answer.
// Changed carries a ChangedSetting, StepEnded a StepConclusion, RunEnded a RunOutcome.

/// <summary>The kinds of fact that the record of a run lays out; others are kept and listed as they are.</summary>
public static class FactKinds
{
    /// <summary>A touch; the reply is a <see cref="Machine.Touches.Reading"/>.</summary>
    public const string Touch = "touch";

    /// <summary>What the controller says of itself; the reply is a <see cref="Machine.Settings.ControllerIdentity"/>.</summary>
    public const string Identify = "identify";

    /// <summary>A question to the person; the request is an <see cref="AskRequest"/>, the reply an <see cref="Answer"/>.</summary>
    public const string Ask = "ask";
}

/// <summary>The request of a fact of kind <see cref="FactKinds.Ask"/>.</summary>
public sealed record AskRequest(string Kind, Prompt Prompt);

/// <summary>Payload of <see cref="EntryKind.SessionStarted"/>.</summary>
/// <param name="At">By the wall clock.</param>
/// <param name="ProgramVersion">Version of the program that took the run up.</param>
/// <param name="Resumed">Whether the run had been begun before.</param>
/// <param name="Simulated">Whether the machine is a simulated one.</param>
public sealed record SessionPayload(DateTimeOffset At, string ProgramVersion, bool Resumed, bool Simulated)
{
    /// <summary>Mesh correction as this session found it; null where the controller doesn't say.</summary>
    public bool? CorrectionFoundOn { get; init; }

    /// <summary>The controller's own travel limits as this session found them; null where the controller doesn't say.</summary>
    public bool? SoftLimitsFoundOn { get; init; }
}

/// <summary>Payload of <see cref="EntryKind.StepStarted"/>.</summary>
/// <param name="Step">The step's name in the script.</param>
/// <param name="Title">Its name for a person.</param>
/// <param name="Of">How many steps the script has.</param>
public sealed record StepStartedPayload(string Step, string Title, int Of);

/// <summary>Payload of <see cref="EntryKind.Voided"/>: the facts from one ordinal to another, both included, count no longer.</summary>
public sealed record VoidedPayload(long FromOrdinal, long ToOrdinal, string Why);

/// <summary>Payload of <see cref="EntryKind.Interrupted"/>.</summary>
/// <param name="What">"hold", "resumed", "stop", "halt", "link lost", "reset".</param>
public sealed record InterruptedPayload(string What, string Why);

/// <summary>Payload of <see cref="EntryKind.Restored"/>.</summary>
public sealed record RestoredPayload(string What);
