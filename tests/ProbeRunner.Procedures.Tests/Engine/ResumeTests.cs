using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Procedures.Scripts;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Procedures.Tests.Engine;

public sealed class ResumeTests
{
    private static RunScript Grid => TestBench.Steps("do = \"preflight\"\nquestions = false", "do = \"first-lift\"\nconfirm = false", "home", "do = \"grid\"\ncolumns = 3\nrows = 3\nreference_every = 4");

    [Fact]
    public void A_run_cut_off_at_any_row_finishes_with_every_reading_once() => VirtualTime.Run(async time =>
    {
        var whole = new TestBench(time);
        await whole.RunAsync(Grid);
        int touches = whole.CountingTouches().Count, rows = whole.Journal.Entries.Count;

        for (int row = 1; row < rows - 1; row++)
        {
            var bench = new TestBench(time);
            bench.Journal.CutAfterRow = row;
            await bench.RunAsync(Grid);
            bench.Printer.PowerCut();
            bench.Journal.CutAfterRow = 0;

            RunOutcome outcome = await bench.RunAsync(Grid);

            Assert.True(outcome is RunOutcome.Completed, $"cut after row {row}: {outcome.Why}");
            Assert.Equal(
                whole.CountingTouches().Select(entry => entry.Request),
                bench.CountingTouches().Select(entry => entry.Request));
            Assert.True(bench.Printer.Touches <= touches + 1, $"cut after row {row}: {bench.Printer.Touches} touches for {touches}");
        }
    });

    [Fact]
    public void A_resume_begins_a_new_datum_epoch_that_no_earlier_one_shares() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        bench.Printer.HomeNoise = homing => 0.02 * homing;
        bench.Journal.CutAfterRow = 36;
        await bench.RunAsync(Grid);
        bench.Printer.PowerCut();
        bench.Journal.CutAfterRow = 0;

        await bench.RunAsync(Grid);

        CaptureConclusion capture = bench.Conclusion<CaptureConclusion>();
        Assert.Equal([1, 2], capture.Readings.Select(reading => reading.DatumEpoch).Distinct());
        Assert.Equal(0.002 * (capture.Area.MaxX - capture.Area.MinX), capture.TiltXMm, 0.02);
    });

    [Fact]
    public void A_commission_cut_off_anywhere_ends_fit_with_the_true_offset() => VirtualTime.Run(async time =>
    {
        RunScript script = TestBench.Script("commission");
        var whole = new TestBench(time);
        await whole.RunAsync(script);
        for (int row = 7; row < whole.Journal.Entries.Count - 2; row += 37)
        {
            var bench = new TestBench(time);
            bench.Journal.CutAfterRow = row;
            await bench.RunAsync(script);
            bench.Printer.PowerCut();
            bench.Journal.CutAfterRow = 0;

            RunOutcome outcome = await bench.RunAsync(script);

            Assert.True(outcome is RunOutcome.Completed { Verdict.State: VerdictWord.Fit }, $"cut after row {row}: {outcome.Why} {outcome.Verdict.Reason}");
            Assert.Equal(-IdealPrinter.TriggerToNozzleMm, bench.Printer.StoredOffset.Z, 0.015);
        }
    });

    [Fact]
    public void Killed_between_a_write_of_the_offset_and_its_record_a_commission_still_ends_fit() => VirtualTime.Run(async time =>
    {
        RunScript script = TestBench.Script("commission");
        var whole = new TestBench(time);
        await whole.RunAsync(script);
        List<long> writes = [.. whole.Journal.Entries.Where(entry => entry.Request.StartsWith("{\"kind\":\"write-probe-offset\"", StringComparison.Ordinal)).Select(entry => entry.Ordinal)];
        Assert.NotEmpty(writes);
        foreach (long write in writes)
        {
            var bench = new TestBench(time);
            bench.Journal.Header = bench.Journal.Header with { Geometry = JournalJson.Write(await MachineGeometry.ReadAsync(bench.Printer, CancellationToken.None)) };
            bench.Journal.CutAfterRow = (int)write - 1;
            bench.Printer.Before = (_, _) => bench.Journal.IsCut ? throw new IOException("Nobody is there any more to say it.") : Task.CompletedTask;
            await bench.RunAsync(script);
            (bench.Journal.CutAfterRow, bench.Printer.Before) = (0, null);

            RunOutcome outcome = await bench.RunAsync(script);

            Assert.True(outcome is RunOutcome.Completed { Verdict.State: VerdictWord.Fit }, $"cut before row {write}: {outcome.Why} {outcome.Verdict.Reason}");
        }
    });

    [Fact]
    public void Another_machine_is_refused_before_anything_moves() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        bench.Journal.CutAfterRow = 24;
        await bench.RunAsync(Grid);
        bench.Printer.PowerCut();
        bench.Journal.CutAfterRow = 0;
        bench.Printer.MachineName = "another";
        bench.Printer.Log.Clear();

        await Assert.ThrowsAsync<ResumeRefusedException>(() => bench.RunAsync(Grid));

        Assert.Equal(["heaters-off", "identify"], bench.Printer.Log);
    });

    [Fact]
    public void A_record_that_goes_another_way_is_refused_before_anything_moves() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        bench.Journal.CutAfterRow = 30;
        await bench.RunAsync(Grid);
        bench.Printer.PowerCut();
        bench.Journal.CutAfterRow = 0;
        int touch = bench.Journal.Entries.FindIndex(entry => entry.Request.StartsWith("{\"kind\":\"touch\"", StringComparison.Ordinal));
        bench.Journal.Entries[touch] = bench.Journal.Entries[touch] with { Request = "{\"kind\":\"touch\",\"place\":{\"x\":1,\"y\":2},\"repeat\":1}" };
        bench.Printer.Log.Clear();

        await Assert.ThrowsAsync<ResumeRefusedException>(() => bench.RunAsync(Grid));

        Assert.Equal(["heaters-off", "identify", "settings", "limits", "read-offset"], bench.Printer.Log);
    });

    [Fact]
    public void A_complete_run_has_nothing_to_resume() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        await bench.RunAsync(Grid);

        Assert.Throws<ResumeRefusedException>(() => bench.Engine(Grid));
    });

    [Fact]
    public void Heaters_go_off_first_of_all_on_a_resume() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        bench.Journal.CutAfterRow = 24;
        await bench.RunAsync(Grid);
        bench.Printer.PowerCut();
        bench.Journal.CutAfterRow = 0;
        bench.Printer.Log.Clear();

        await bench.RunAsync(Grid);

        Assert.Equal("heaters-off", bench.Printer.Log[0]);
        Assert.Contains(bench.Journal.Entries, entry => entry.Kind == EntryKind.Restored);
    });
}
