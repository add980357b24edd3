using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Engine;

/// <summary>What an earlier session recorded, served fact by fact to the same code.</summary>
internal sealed class Replay
{
    private readonly IEnumerator<JournalEntry> _facts;
    private readonly List<VoidedPayload> _voided = [];
    private readonly Dictionary<int, StepConclusion> _ended = [];
    private readonly HashSet<int> _started = [];
    private readonly HashSet<(int Step, string Payload)> _changes = [];
    private readonly Dictionary<(int Step, string Section), int> _retakes = [];

    /// <summary>Goes through a record; its facts are read once more as they are served.</summary>
    /// <param name="entries">The rows, in order; enumerated twice.</param>
    public Replay(IEnumerable<JournalEntry> entries)
    {
        State = MachineState.Untouched;
        foreach (JournalEntry entry in entries)
        {
            (IsResume, LastOrdinal, LastAt) = (true, entry.Ordinal, entry.At);
            switch (entry.Kind)
            {
                case EntryKind.Fact:
                    Request request = JournalJson.Read<Request>(entry.Request);
                    State = request.AfterRecorded(State, entry.Reply);
                    if (request is Identify)
                    {
                        Identity = entry.Reply;
                    }

                    if (request is ReadSettings)
                    {
                        Settings ??= entry.Reply;
                    }

                    break;
                case EntryKind.SessionStarted:
                    State = State.MetBy(JournalJson.Read<SessionPayload>(entry.Reply));
                    break;
                case EntryKind.Restored when entry.Request.Length > 0 && JournalJson.Read<Request>(entry.Request) is HomeAxes { Axes: var axes } && axes.HasFlag(Machine.Geometry.Axes.Z):
                    State = State with { DatumEpoch = State.DatumEpoch + 1 };
                    break;
                case EntryKind.Voided:
                    _voided.Add(JournalJson.Read<VoidedPayload>(entry.Reply));
                    _retakes[(entry.StepIndex, entry.Section)] = _retakes.GetValueOrDefault((entry.StepIndex, entry.Section)) + 1;
                    break;
                case EntryKind.StepStarted:
                    _started.Add(entry.StepIndex);
                    break;
                case EntryKind.StepEnded:
                    _ended[entry.StepIndex] = JournalJson.Read<StepConclusion>(entry.Reply);
                    break;
                case EntryKind.Changed:
                    _changes.Add((entry.StepIndex, entry.Reply));
                    break;
                case EntryKind.RunEnded:
                    LastOutcome = JournalJson.Read<RunOutcome>(entry.Reply);
                    break;
            }
        }

        _facts = entries.TakeWhile(entry => entry.Ordinal <= LastOrdinal).Where(IsServed).GetEnumerator();
        IsExhausted = !_facts.MoveNext();
    }

    /// <summary>Whether the run had been begun before.</summary>
    public bool IsResume { get; }

    /// <summary>Last ordinal used.</summary>
    public long LastOrdinal { get; }

    /// <summary>When the last row was written.</summary>
    public TimeSpan LastAt { get; }

    /// <summary>What all recorded facts imply about the machine.</summary>
    public MachineState State { get; }

    /// <summary>The controller's identity as recorded, JSON; null when it was not asked.</summary>
    public string? Identity { get; }

    /// <summary>The controller's settings as the run met them first, JSON; null when they were not read.</summary>
    public string? Settings { get; private set; }

    /// <summary>How the run ended last time; null when it was cut off.</summary>
    public RunOutcome? LastOutcome { get; }

    /// <summary>Whether all recorded facts have been served.</summary>
    public bool IsExhausted { get; private set; }

    /// <summary>Whether the step began in an earlier session.</summary>
    public bool HasStarted(int step) => _started.Contains(step);

    /// <summary>How the step ended in an earlier session; null when it did not.</summary>
    public StepConclusion? EndOf(int step) => _ended.GetValueOrDefault(step);

    /// <summary>How often a section was voided in earlier sessions.</summary>
    public int RetakesOf(int step, string section) => _retakes.GetValueOrDefault((step, section));

    /// <summary>Whether a change is on record already.</summary>
    public bool HasChange(int step, string payload) => _changes.Contains((step, payload));

    /// <summary>The next recorded fact; null when there is none left.</summary>
    /// <exception cref="ResumeRefusedException">The record holds another request here.</exception>
    public JournalEntry? Next(int step, string section, string request)
    {
        if (IsExhausted)
        {
            return null;
        }

        JournalEntry next = _facts.Current;
        if (next.StepIndex != step || next.Section != section || next.Request != request)
        {
            throw new ResumeRefusedException(
                $"The record of this run goes another way than this program at row {next.Ordinal}: it holds {next.Request} where {request} is asked now. "
                + "Nothing has moved. The run can be read and exported; resume it with the program version that began it, or start a new run.");
        }

        IsExhausted = !_facts.MoveNext();
        return next;
    }

    private bool IsServed(JournalEntry entry) =>
        entry.Kind == EntryKind.Fact
        && !_ended.ContainsKey(entry.StepIndex)
        && !_voided.Any(range => entry.Ordinal >= range.FromOrdinal && entry.Ordinal <= range.ToOrdinal);
}
