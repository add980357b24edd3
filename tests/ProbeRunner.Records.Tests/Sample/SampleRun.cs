using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Procedures.Operators;

namespace ProbeRunner.Records.Tests.Sample;

/// <summary>Builds the journal of a run row by row, as the engine would write it.</summary>
internal sealed class SampleRun
{
    private readonly ImmutableArray<JournalEntry>.Builder _entries = ImmutableArray.CreateBuilder<JournalEntry>();
    private TimeSpan _at;
    private int _step = -1;

    public static DateTimeOffset Start { get; } = new(2026, 11, 25, 9, 30, 0, TimeSpan.FromHours(1));

    public static RunHeader Header(string runId = "20261125-0830-kqv") => new(
        runId, "wren-240", "commission", "name = \"commission\"\n", ProfileText, "name = \"line-ack\"\n", "usb:bench-01", string.Empty, Start, 7, "0.1.0");

    /// <summary>The workshop's own machine, from the file that is shipped.</summary>
    public static string ProfileText { get; } = File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "profiles", "machines", "wren-240.toml"));

    public ImmutableArray<JournalEntry> Entries => _entries.ToImmutable();

    public long NextOrdinal => _entries.Count + 1;

    public SampleRun Session(bool resumed = false, bool simulated = true) =>
        Add(EntryKind.SessionStarted, string.Empty, string.Empty, JournalJson.Write(new SessionPayload(Start + _at, "0.1.0", resumed, simulated)));

    public SampleRun Step(string name, string title, int of = 12)
    {
        _step++;
        return Add(EntryKind.StepStarted, string.Empty, string.Empty, JournalJson.Write(new StepStartedPayload(name, title, of)));
    }

    public SampleRun Touch(Reading reading, string section = "touches")
    {
        string place = JournalJson.Write(reading.Place);
        return Wait(3.2).Add(EntryKind.Fact, section, $$"""{"kind":"touch","place":{{place}},"repeat":1}""", JournalJson.Write(reading));
    }

    public SampleRun Touches(IEnumerable<Reading> readings)
    {
        foreach (Reading reading in readings)
        {
            Touch(reading);
        }

        return this;
    }

    public SampleRun Ask(string id, string text, string answer)
    {
        var prompt = new Prompt(id, PromptKind.Choice, text, "Because the next thing depends on it.", [new Choice("no", "No"), new Choice(answer, answer)]);
        return Wait(6).Add(EntryKind.Fact, "questions", JournalJson.Write(new AskRequest(FactKinds.Ask, prompt)), JournalJson.Write(new Answer(answer)));
    }

    public SampleRun Fact(string request, string reply) => Add(EntryKind.Fact, "facts", request, reply);

    public SampleRun Void(long from, long to) =>
        Add(EntryKind.Voided, string.Empty, string.Empty, JournalJson.Write(new VoidedPayload(from, to, "held in the middle")));

    public SampleRun Changed(string setting, string before, string after) =>
        Add(EntryKind.Changed, string.Empty, string.Empty, JournalJson.Write(new ChangedSetting(setting, before, after)));

    public SampleRun Interrupted(string what, string why) =>
        Add(EntryKind.Interrupted, string.Empty, string.Empty, JournalJson.Write(new InterruptedPayload(what, why)));

    public SampleRun Conclude(StepConclusion conclusion) =>
        Wait(1).Add(EntryKind.StepEnded, string.Empty, string.Empty, JournalJson.Write(conclusion));

    public SampleRun End(RunOutcome outcome)
    {
        _step = -1;
        return Add(EntryKind.RunEnded, string.Empty, string.Empty, JournalJson.Write(outcome));
    }

    public SampleRun Wait(double seconds)
    {
        _at += TimeSpan.FromSeconds(seconds);
        return this;
    }

    public Reading At(double x, double y, double z, bool suspect = false, int epoch = 1) => new(new BedPoint(x, y), z, Start + _at, epoch, suspect);

    private SampleRun Add(EntryKind kind, string section, string request, string reply)
    {
        _entries.Add(new JournalEntry(NextOrdinal, _at, kind, _step, section, request, reply));
        return this;
    }
}
