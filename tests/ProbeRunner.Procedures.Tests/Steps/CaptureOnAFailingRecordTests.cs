using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Events;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Procedures.Scripts;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Procedures.Tests.Steps;

/// <summary>The record of a warm capture cannot be written, at every row of it in turn.</summary>
public sealed class CaptureOnAFailingRecordTests
{
    private static RunScript WarmGrid => TestBench.Steps(
        "do = \"first-lift\"\nconfirm = false",
        "home",
        "do = \"grid\"\ncolumns = 3\nrows = 3\ntouches = 1\nreference_every = 4\nbed_celsius = 60\nsoak_minutes = 1\npause_bed_heater = true");

    [Fact]
    public void Whichever_row_can_not_be_written_a_warm_capture_stops_cold_acknowledges_nothing_more_and_can_be_resumed() => VirtualTime.Run(async time =>
    {
        var whole = new TestBench(time);
        Assert.IsType<RunOutcome.Completed>(await whole.RunAsync(WarmGrid));
        int touches = whole.CountingTouches().Count;
        List<int> rows = [.. whole.Journal.Entries.TakeWhile(entry => entry.Kind != EntryKind.RunEnded).Select((_, index) => index + 1)];
        Assert.True(touches > 5 && rows.Count > touches);

        foreach (int row in rows)
        {
            await FailsAtAsync(time, row, touches);
        }
    });

    private static async Task FailsAtAsync(TimeProvider time, int row, int touches)
    {
        var bench = new TestBench(time);
        bench.Journal.FailsAtRow = row;

        RunOutcome outcome = await bench.RunAsync(WarmGrid);

        string why = Assert.IsType<RunOutcome.Faulted>(outcome).Why;
        Assert.True(why.Contains("Make room or repair the disk, then resume.", StringComparison.Ordinal), $"row {row}: {why}");
        Assert.Equal(row - 1, bench.Journal.Entries.Count);
        Assert.Equal((0, 0), (bench.Printer.NozzleTarget, bench.Printer.BedTarget));
        int acknowledged = bench.Events.OfType<ReadingTaken>().Count();
        Assert.True(acknowledged <= bench.CountingTouches().Count, $"row {row}: {acknowledged} acknowledged");
        Assert.InRange(bench.Printer.Touches, bench.CountingTouches().Count, bench.CountingTouches().Count + 1);

        bench.Journal.FailsAtRow = 0;
        Assert.True(await bench.RunAsync(WarmGrid) is RunOutcome.Completed, $"row {row}: not resumed");
        Assert.Equal(touches, bench.CountingTouches().Count);
        Assert.InRange(bench.Printer.Touches, touches, touches + 1);
    }
}
