using ProbeRunner.Machine.Dialects;
using ProbeRunner.Machine.Printers;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Scripts;
using ProbeRunner.SimulatedPrinter.Hosting;
using ProbeRunner.SimulatedPrinter.Scenarios;
using ProbeRunner.SimulatedPrinter.Time;
using ProbeRunner.Transport.Commands;
using ProbeRunner.Transport.Links;

namespace ProbeRunner.Benchmarks.Campaigns;

/// <summary>Runs a script on an in-process simulated machine on virtual time, with somebody who confirms everything, and gives what a step concluded.</summary>
internal static class MachineBench
{
    /// <summary>The step's conclusion beside the machine it was reached on.</summary>
    /// <exception cref="InvalidOperationException">The run did not complete.</exception>
    public static TResult Run<TConclusion, TResult>(Scenario scenario, RunScript script, Func<TConclusion, SimulatedPrinterHost, TResult> take, Func<SimulatedPrinterHost, string, Task<string?>>? answer = null)
        where TConclusion : StepConclusion => VirtualTime.Run(async time =>
    {
        (DuplexLink near, DuplexLink far) = DuplexLink.CreatePair("campaign");
        await using SimulatedPrinterHost host = SimulatedPrinterHost.Start(far, scenario, time);
        var catalogue = new ProfileCatalogue([Path.Combine(Repository, "profiles")]);
        MachineProfile profile = catalogue.Machine(scenario.MachineName);
        Dialect dialect = catalogue.Dialect(profile.Dialect);
        await using Printer printer = await Printer.ConnectAsync(new CommandChannel(near, dialect, time, dialect.ChannelOptions), dialect, profile, time);
        var journal = new MemoryJournal(scenario.Seed);
        RunOutcome outcome = await new RunEngine(printer, new Agreeing(host, answer), journal, script, time, new RunOptions("campaign", Simulated: true)).RunAsync();
        TConclusion? found = journal.Conclusions.OfType<TConclusion>().LastOrDefault();
        return outcome is RunOutcome.Completed && found is not null ? take(found, host) : throw new InvalidOperationException(outcome.Why);
    });

    /// <summary>A script of steps, each a name or the lines of its table.</summary>
    public static RunScript Steps(params string[] steps) => RunScript.Parse(
        "title = \"campaign\"\n" + string.Concat(steps.Select(step => $"[[step]]\n{(step.Contains('=', StringComparison.Ordinal) ? step : $"do = \"{step}\"")}\n")), "campaign");

    private static string Repository
    {
        get
        {
            var folder = new DirectoryInfo(AppContext.BaseDirectory);
            while (!File.Exists(Path.Combine(folder.FullName, "ProbeRunner.sln")))
            {
                folder = folder.Parent ?? throw new DirectoryNotFoundException("The campaign runs inside the repository.");
            }

            return folder.FullName;
        }
    }

    private sealed class Agreeing(SimulatedPrinterHost host, Func<SimulatedPrinterHost, string, Task<string?>>? answer) : IOperator
    {
        public bool IsPresent => true;

        public async Task<Answer> AskAsync(Prompt prompt, CancellationToken cancel) => new(
            (answer is null ? null : await answer(host, prompt.Id))
            ?? (prompt.Kind == PromptKind.Acknowledge ? Answer.Continue : PromptIds.WhenAllIsWell.GetValueOrDefault(prompt.Id) ?? prompt.Choices[0].Word));
    }

    private sealed class MemoryJournal(ulong seed) : IJournal
    {
        private readonly List<JournalEntry> _entries = [];

        public RunHeader Header { get; } = new("campaign", "wren-240", "campaign", "", "", "", "", "", DateTimeOffset.UnixEpoch, seed, "campaign");

        public IEnumerable<StepConclusion> Conclusions =>
            _entries.Where(entry => entry.Kind == EntryKind.StepEnded).Select(entry => JournalJson.Read<StepConclusion>(entry.Reply));

        public IReadOnlyList<JournalEntry> ReadAll() => _entries;

        public void Append(JournalEntry entry) => _entries.Add(entry);
    }
}
