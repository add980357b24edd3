using ProbeRunner.Metrology.Histories;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Records.Histories;
using ProbeRunner.Records.Runs;
using ProbeRunner.Records.Summaries;
using ProbeRunner.Records.Tests.Sample;

namespace ProbeRunner.Records.Tests.Histories;

public sealed class MachineHistoryTests
{
    [Fact]
    public void A_step_of_the_offset_is_named_with_its_run_whatever_order_the_runs_come_in()
    {
        double[] offsets = [-2.150, -2.153, -2.149, -2.151, -2.052, -2.050, -2.049];
        RunRecord[] runs = [.. offsets.Select((offset, day) => On(day, offset))];

        MachineHistory history = MachineHistory.Of("wren-240", runs.Reverse());

        QuantityHistory offset = history.Quantities.Single(quantity => quantity.Key == "offsetMm");
        Assert.Equal(offsets, offset.Points.Select(point => point.Value));
        Assert.Equal(HistoryKind.Step, offset.Change.Kind);
        Assert.Equal(runs[4].Header.RunId, offset.From!.RunId);
        Assert.True(history.HasChanged);
        Assert.Contains(HistorySummary.Lines(history), line => line.Contains($"from run {runs[4].Header.RunId} on", StringComparison.Ordinal));
    }

    [Fact]
    public void Few_runs_show_nothing_and_say_so()
    {
        MachineHistory history = MachineHistory.Of("wren-240", [On(0, -2.15), On(1, -2.0)]);

        Assert.False(history.HasChanged);
        Assert.Contains(HistorySummary.Lines(history), line => line.Contains("from five on", StringComparison.Ordinal));
    }

    private static RunRecord On(int day, double offsetMm)
    {
        RunRecord run = Commission.Record;
        return run with
        {
            Header = run.Header with { RunId = FormattableString.Invariant($"2026112{day}-0830-kqv"), StartedAt = run.Header.StartedAt.AddDays(day) },
            Steps = [.. run.Steps.Select(step => step.Conclusion is StepDownConclusion down ? step with { Conclusion = down with { OffsetMm = offsetMm } } : step)],
        };
    }
}
