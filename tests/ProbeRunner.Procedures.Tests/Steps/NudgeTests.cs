using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Events;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Procedures.Requests;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Procedures.Tests.Steps;

/// <summary>The nozzle nudged by a person while a first layer is laid.</summary>
public sealed class NudgeTests
{
    private static readonly string[] Script =
        ["preflight", "first-lift", "home-xy", "self-check", "first-home-z", "series", "step-down", "do = \"grid\"\ncolumns = 4\nrows = 4", "do = \"mesh\"\nany_conditions = true", "store", "verify", "first-layer"];

    [Fact]
    public void Nothing_is_nudged_while_nothing_is_laid() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        var replies = new List<NudgeReply>();
        await bench.RunAsync(TestBench.Steps("do = \"first-lift\"\nconfirm = false", "home"), engine => bench.Printer.Before = (_, _) =>
        {
            replies.Add(engine.Control.Nudge(NudgeDirection.Closer));
            return Task.CompletedTask;
        });

        Assert.All(replies, reply => Assert.Equal(NudgeReply.NotLaying, reply));
        Assert.DoesNotContain("nudge", bench.Printer.Log);
    });

    [Fact]
    public void One_nudge_a_line_two_tenths_in_all_and_each_is_a_fact() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        var replies = new List<NudgeReply>();
        await bench.RunAsync(TestBench.Steps(Script), engine => bench.Printer.Before = (verb, call) =>
        {
            if (verb == "lay" && call <= 30)
            {
                replies.Add(engine.Control.Nudge(NudgeDirection.Farther));
                replies.Add(engine.Control.Nudge(NudgeDirection.Farther));
            }

            return Task.CompletedTask;
        });

        Assert.Equal(20, replies.Count(reply => reply == NudgeReply.Taken));
        Assert.Equal(NudgeReply.OneAtATime, replies[1]);
        Assert.Equal(NudgeReply.AtTheLimit, replies[^1]);
        Assert.Equal(20, bench.Printer.Log.Count(verb => verb == "nudge"));
        Assert.Equal(20, Rows(bench.Journal).Count(row => row.NudgedMm == 0.01));
        Assert.Equal(20, bench.Events.OfType<Nudged>().Count());
        Assert.Equal(0.2, bench.Events.OfType<Nudged>().Last().TotalMm, 1e-9);
    });

    [Fact]
    public void A_patch_is_judged_by_the_height_it_was_really_laid_at_and_the_next_one_keeps_the_nudge() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench plain = await SimulatedBench.StartAsync(time, "good");
        await plain.RunAsync(TestBench.Steps(Script));
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");
        RunOutcome outcome = await bench.RunAsync(TestBench.Steps(Script), engine => NudgeOnceFromRow(bench, engine, 10));

        Assert.True(outcome is RunOutcome.Completed, outcome.Why);
        var asPlanned = plain.Conclusion<FirstLayerConclusion>().Patches;
        var nudged = bench.Conclusion<FirstLayerConclusion>().Patches;
        int rows = Rows(bench.Journal).Count / (asPlanned.Length);
        double share = Rows(bench.Journal).Take(rows).SkipWhile(row => row.NudgedMm == 0).Count() / (double)rows;
        Assert.Equal(asPlanned[0].HeightMm + (0.01 * share), nudged[0].HeightMm, 1e-4);
        Assert.Equal(asPlanned[1].HeightMm + 0.01, nudged[1].HeightMm, 1e-9);
        Assert.Empty(bench.Host.Truth.IllegalMoves);
    });

    [Fact]
    public void Nudges_survive_a_power_cut_and_the_interrupted_patch_does_not_count() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");
        bench.Journal.Appended = entry =>
        {
            if (Rows(bench.Journal).Count == 100)
            {
                bench.Journal.Appended = null;
                bench.Host.PullCable();
            }
        };
        await bench.RunAsync(TestBench.Steps(Script), engine => NudgeOnceFromRow(bench, engine, 10));
        var before = Rows(bench.Journal);
        await bench.ComeBackAsync();

        RunOutcome outcome = await bench.RunAsync(TestBench.Steps(Script));

        Assert.True(outcome is RunOutcome.Completed, outcome.Why);
        FirstLayerConclusion layer = bench.Conclusion<FirstLayerConclusion>();
        Assert.Single(before, row => row.NudgedMm > 0);
        Assert.Equal(100, before.Count);
        Assert.DoesNotContain(layer.Patches, patch => patch.HeightMm == 0);
        Assert.True(layer.Patches.Length >= 10);
        Assert.Empty(bench.Host.Truth.IllegalMoves);
        Assert.Equal((0.0, 0.0), bench.Host.Truth.HeaterTargets);
    });

    private static List<LaidRow> Rows(MemoryJournal journal) =>
    [
        .. journal.Entries.Where(entry => entry.Kind == EntryKind.Fact && entry.Request.StartsWith("{\"kind\":\"lay-lines\"", StringComparison.Ordinal))
            .Select(entry => JournalJson.Read<LaidRow>(entry.Reply)),
    ];

    private static void NudgeOnceFromRow(SimulatedBench bench, RunEngine engine, int row)
    {
        var earlier = bench.Journal.Appended;
        bool done = false;
        bench.Journal.Appended = entry =>
        {
            if (!done && Rows(bench.Journal).Count == row)
            {
                done = true;
                Assert.Equal(NudgeReply.Taken, engine.Control.Nudge(NudgeDirection.Farther));
            }

            earlier?.Invoke(entry);
        };
    }
}
