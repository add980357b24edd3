using System.Threading.Channels;
using ProbeRunner.Campaigns;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Events;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Procedures.Scripts;

namespace ProbeRunner.Procedures.Tests.Bench;

/// <summary>A printer, a person and a journal, ready for sessions of one run.</summary>
internal sealed class TestBench
{
    public TestBench(TimeProvider time, ulong seed = 1)
    {
        Time = time;
        Printer = new IdealPrinter(time, Profile);
        Person = new BenchPerson(time, Printer);
        Journal = new MemoryJournal(seed);
    }

    public static MachineProfile Profile { get; } = new ProfileCatalogue([Folder]).Machine("wren-240");

    public TimeProvider Time { get; }

    public IdealPrinter Printer { get; }

    public BenchPerson Person { get; }

    public MemoryJournal Journal { get; }

    public List<RunEvent> Events { get; } = [];

    /// <summary>The folder of profiles above the test's own.</summary>
    public static string Folder => CampaignMachine.ProfilesFolder;

    public static RunScript Script(string name, params string[] set) => RunScript.Load(Path.Combine(Folder, "runs", name + ".toml"), set);

    public static RunScript Steps(params string[] steps) => RunScript.Parse(
        "title = \"test\"\n" + string.Concat(steps.Select(step => $"[[step]]\n{(step.Contains('=', StringComparison.Ordinal) ? step : $"do = \"{step}\"")}\n")), "test");

    public RunEngine Engine(RunScript script, TimeSpan? holdLimit = null) =>
        new(Printer, Person, Journal, script, Time, new RunOptions("0.1", HoldLimit: holdLimit));

    public async Task<RunOutcome> RunAsync(RunScript script, Action<RunEngine>? with = null)
    {
        RunEngine engine = Engine(script);
        ChannelReader<RunEvent> events = engine.Listen();
        with?.Invoke(engine);
        RunOutcome outcome = await engine.RunAsync();
        while (events.TryRead(out RunEvent? told))
        {
            Events.Add(told);
        }

        return outcome;
    }

    public T Conclusion<T>()
        where T : StepConclusion =>
        Journal.Entries.Where(entry => entry.Kind == EntryKind.StepEnded).Select(entry => JournalJson.Read<StepConclusion>(entry.Reply)).OfType<T>().Last();

    /// <summary>Touches on record that count.</summary>
    public List<JournalEntry> CountingTouches()
    {
        var voided = Journal.Entries.Where(entry => entry.Kind == EntryKind.Voided).Select(entry => JournalJson.Read<VoidedPayload>(entry.Reply)).ToList();
        return
        [
            .. Journal.Entries.Where(entry => entry.Kind == EntryKind.Fact
                && entry.Request.StartsWith("{\"kind\":\"touch\"", StringComparison.Ordinal)
                && !voided.Any(range => entry.Ordinal >= range.FromOrdinal && entry.Ordinal <= range.ToOrdinal)),
        ];
    }
}
