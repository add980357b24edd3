using System.Diagnostics;
using ProbeRunner.Campaigns;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Scripts;
using ProbeRunner.Records.Store;
using ProbeRunner.SimulatedPrinter.Scenarios;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Benchmarks.Campaigns;

/// <summary>
/// What a capture of 100,000 touches holds in memory after 1,000 and after all of them: step, engine, wire and the real store on the disk.
/// The simulated machine lives in the same process and keeps no touches.
/// </summary>
internal static class MemoryCampaign
{
    private const int Side = 185; // 185 x 185 x 3 = 102,675 touches, those on clips left out

    private static readonly int[] Marks = [1_000, 10_000, 100_000];

    internal static void Run(TextWriter output)
    {
        string path = Path.Combine(Path.GetTempPath(), Path.GetRandomFileName() + ".db");
        try
        {
            var watch = Stopwatch.StartNew();
            output.WriteLine("readings  managed MiB  working set MiB");
            CaptureConclusion? capture = Capture(path, output);
            output.WriteLine(FormattableString.Invariant(
                $"{capture?.Details?.Touches} touches in {watch.Elapsed.TotalSeconds:0} s, {capture?.Verdict.State}; journal {new FileInfo(path).Length / 1048576.0:0.0} MiB"));
        }
        finally
        {
            foreach (string file in Directory.GetFiles(Path.GetDirectoryName(path)!, Path.GetFileName(path) + "*"))
            {
                File.Delete(file);
            }
        }
    }

    private static CaptureConclusion? Capture(string path, TextWriter output) => VirtualTime.Run(async time =>
    {
        Scenario scenario = ScenarioFile.Load("good");
        await using CampaignMachine machine = await CampaignMachine.StartAsync(time, scenario);
        machine.Host.Truth.TouchesKept = 0;
        RunScript script = MachineBench.Steps(
            "do = \"preflight\"\nquestions = false", "do = \"first-lift\"\nconfirm = false", "home",
            FormattableString.Invariant($"do = \"grid\"\ncolumns = {Side}\nrows = {Side}\ntouches = 3\nreference_every = 100"));
        var header = new RunHeader("memory", scenario.MachineName, "memory", string.Empty, string.Empty, string.Empty, "in process", string.Empty, time.GetUtcNow(), 1, "campaign");
        using RunJournal journal = RunStore.Open(path).Create(header);
        var watched = new WatchedJournal(journal, output);
        await new RunEngine(machine.Printer, new Absent(), watched, script, time, new RunOptions("campaign", Simulated: true)).RunAsync();
        return watched.Capture;
    });

    /// <summary>Passes rows on, and looks at the memory at the marks.</summary>
    private sealed class WatchedJournal(RunJournal inner, TextWriter output) : IJournal
    {
        private int _touches;

        public RunHeader Header => inner.Header;

        public CaptureConclusion? Capture { get; private set; }

        public IReadOnlyList<JournalEntry> ReadAll() => inner.ReadAll();

        public void Append(JournalEntry entry)
        {
            inner.Append(entry);
            if (entry.Kind == EntryKind.StepEnded)
            {
                Capture = JournalJson.Read<StepConclusion>(entry.Reply) as CaptureConclusion ?? Capture;
            }

            if (entry.Request.StartsWith("{\"kind\":\"touch\"", StringComparison.Ordinal) && Marks.Contains(++_touches))
            {
                long managed = GC.GetTotalMemory(forceFullCollection: true);
                output.WriteLine(FormattableString.Invariant($"{_touches,8} {managed / 1048576.0,12:0.0} {Environment.WorkingSet / 1048576.0,16:0.0}"));
            }
        }
    }

    private sealed class Absent : IOperator
    {
        public bool IsPresent => false;

        public Task<Answer> AskAsync(Prompt prompt, CancellationToken cancel) => Task.FromResult(new Answer(Answer.Continue));
    }
}
