using ProbeRunner.Machine.Touches;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Events;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Console.Following;

/// <summary>Turns the rows of a run that another process works on into the events it told there.</summary>
internal sealed class FollowedEvents(RunHeader header)
{
    private string step = "";
    private int readings;

    /// <summary>The events of one row; none for what only the record needs.</summary>
    public IEnumerable<RunEvent> Of(JournalEntry entry) => entry.Kind switch
    {
        EntryKind.SessionStarted => [new RunStarted(entry.At, header.RunId, header.MachineName, header.ScriptName, JournalJson.Read<SessionPayload>(entry.Reply).Resumed)],
        EntryKind.StepStarted => [Began(entry, JournalJson.Read<StepStartedPayload>(entry.Reply))],
        EntryKind.Fact => OfFact(entry),
        EntryKind.Voided => [new Remarked(entry.At, step, $"Taken again: {JournalJson.Read<VoidedPayload>(entry.Reply).Why}")],
        EntryKind.Restored => [new Remarked(entry.At, step, $"Restored: {JournalJson.Read<RestoredPayload>(entry.Reply).What}.")],
        EntryKind.Changed => [Changed(entry, JournalJson.Read<ChangedSetting>(entry.Reply))],
        EntryKind.Interrupted => [new Warned(entry.At, step, JournalJson.Read<InterruptedPayload>(entry.Reply).Why)],
        EntryKind.StepEnded => OfConclusion(entry, JournalJson.Read<StepConclusion>(entry.Reply)),
        _ => [],
    };

    private StepStarted Began(JournalEntry entry, StepStartedPayload payload)
    {
        (step, readings) = (payload.Step, 0);
        return new StepStarted(entry.At, payload.Step, payload.Title, entry.StepIndex, payload.Of);
    }

    private IEnumerable<RunEvent> OfFact(JournalEntry entry) => JournalJson.Read<Request>(entry.Request) switch
    {
        TouchAt touch => [new ReadingTaken(entry.At, step, ++readings, null, touch.Repeat, JournalJson.Read<Reading>(entry.Reply))],
        AskPerson asked => [new AnswerGiven(entry.At, asked.Prompt.Id, JournalJson.Read<Answer>(entry.Reply).Value)],
        _ => [],
    };

    private static SettingChanged Changed(JournalEntry entry, ChangedSetting change) => new(entry.At, change.Setting, change.Before, change.After);

    private IEnumerable<RunEvent> OfConclusion(JournalEntry entry, StepConclusion conclusion) =>
    [
        new VerdictReached(entry.At, step, conclusion.Verdict),
        .. conclusion.Findings.Select(finding => new FindingReached(entry.At, finding)),
        new StepEnded(entry.At, step, entry.StepIndex, conclusion),
    ];
}
