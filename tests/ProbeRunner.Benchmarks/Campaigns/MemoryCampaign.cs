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
/// What a capture of 100,000 touches holds in memory after 1,000 and after all of them, and what a run holds that is taken up again after as
/// many: step, engine, wire and the real store on the disk. The simulated machine lives in the same process and keeps no touches.
/// </summary>
internal static class MemoryCampaign
{
    private const int Side = 185; // 185 x 185 x 3 = 102,675 touches, those on clips left out

    private static readonly int[] Marks = [1_000, 10_000, 100_000];

    internal static void Run(TextWriter output)
    {
        output.WriteLine("a capture cut off and taken up again: while its record is read, and at its first new touch");
        output.WriteLine("readings  managed MiB  working set MiB");
        foreach (int mark in Marks)
        {
            InStore(path =>
            {
                Session(path, journal => new WatchedJournal(journal, [], output) { CutAfterTouches = mark });
                Session(path, journal => new WatchedJournal(journal, [mark, mark + 1], output) { Touches = mark, CutAfterTouches = mark + 1 });
            });
        }

        output.WriteLine("a capture from its beginning to its end");
        output.WriteLine("readings  managed MiB  working set MiB");
        InStore(path =>
        {
            var watch = Stopwatch.StartNew();
            var watched = Session(path, journal => new WatchedJournal(journal, Marks, output));
            output.WriteLine(FormattableString.Invariant(
                $"{watched.Capture?.Details?.Touches} touches in {watch.Elapsed.TotalSeconds:0} s, {watched.Capture?.Verdict.State}; journal {new FileInfo(path).Length / 1048576.0:0.0} MiB"));
        });
    }

    private static void InStore(Action<string> act)
    {
        string path = Path.Combine(Path.GetTempPath(), Path.GetRandomFileName() + ".db");
        try
        {
            act(path);
        }
        finally
        {
            foreach (string file in Directory.GetFiles(Path.GetDirectoryName(path)!, Path.GetFileName(path) + "*"))
            {
                File.Delete(file);
            }

            Directory.Delete(path + "-locks", recursive: true);
        }
    }

    /// <summary>One session of the run in a store: the first when there is none, else the run is taken up again.</summary>
    private static WatchedJournal Session(string path, Func<RunJournal, WatchedJournal> watch) => VirtualTime.Run(async time =>
    {
        Scenario scenario = ScenarioFile.Load("good");
        await using CampaignMachine machine = await CampaignMachine.StartAsync(time, scenario);
        machine.Host.Truth.TouchesKept = 0;
        RunScript script = MachineBench.Steps(
            "do = \"preflight\"\nquestions = false", "do = \"first-lift\"\nconfirm = false", "home",
            FormattableString.Invariant($"do = \"grid\"\ncolumns = {Side}\nrows = {Side}\ntouches = 3\nreference_every = 100"));
        var header = new RunHeader("memory", scenario.MachineName, "memory", string.Empty, string.Empty, string.Empty, "in process", string.Empty, time.GetUtcNow(), 1, "campaign");
        bool isNew = !File.Exists(path);
        RunStore store = RunStore.Open(path);
        using RunJournal journal = isNew ? store.Create(header) : store.OpenForResume(header.RunId);
        WatchedJournal watched = watch(journal);
        await new RunEngine(machine.Printer, new Absent(), watched, script, time, new RunOptions("campaign", Simulated: true)).RunAsync();
        return watched;
    });

    /// <summary>Passes rows on, and looks at the memory at the marks.</summary>
    private sealed class WatchedJournal(RunJournal inner, int[] marks, TextWriter output) : IJournal
    {
        public int Touches { get; set; }

        /// <summary>Nothing is taken after so many; 0 for never.</summary>
        public int CutAfterTouches { get; init; }

        public RunHeader Header => inner.Header;

        public CaptureConclusion? Capture { get; private set; }

        public IEnumerable<JournalEntry> ReadAll()
        {
            int read = 0;
            foreach (JournalEntry entry in inner.ReadAll())
            {
                if (IsTouch(entry) && marks.Contains(++read))
                {
                    Tell(read);
                }

                yield return entry;
            }
        }

        public void Append(JournalEntry entry)
        {
            if (CutAfterTouches > 0 && Touches >= CutAfterTouches)
            {
                throw new JournalFailedException("The power was cut.");
            }

            inner.Append(entry);
            if (entry.Kind == EntryKind.StepEnded)
            {
                Capture = JournalJson.Read<StepConclusion>(entry.Reply) as CaptureConclusion ?? Capture;
            }

            if (IsTouch(entry) && marks.Contains(++Touches))
            {
                Tell(Touches);
            }
        }

        private static bool IsTouch(JournalEntry entry) => entry.Request.StartsWith("{\"kind\":\"touch\"", StringComparison.Ordinal);

        private void Tell(int touches)
        {
            GC.Collect();
            GC.WaitForPendingFinalizers();
            long managed = GC.GetTotalMemory(forceFullCollection: true);
            output.WriteLine(FormattableString.Invariant($"{touches,8} {managed / 1048576.0,12:0.0} {Environment.WorkingSet / 1048576.0,16:0.0}"));
        }
    }

    private sealed class Absent : IOperator
    {
        public bool IsPresent => false;

        public Task<Answer> AskAsync(Prompt prompt, CancellationToken cancel) => Task.FromResult(new Answer(Answer.Continue));
    }
}
