using System.Collections.Immutable;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Records.Runs;
using ProbeRunner.Records.Summaries;
using ProbeRunner.Records.Tests.Sample;

namespace ProbeRunner.Records.Tests.Summaries;

public class RunSummaryTests
{
    [Fact]
    public void A_list_has_one_aligned_line_for_each_run()
    {
        RunListing[] runs =
        [
            new("20261125-0830-kqv", "wren-240", "commission", SampleRun.Start, RunState.Ended, 300, TimeSpan.FromSeconds(698), Commission.Record.Outcome),
            new("20261124-0700-bcd", "heron-330", "grid", SampleRun.Start.AddDays(-1), RunState.Interrupted, 20, TimeSpan.FromSeconds(61), null),
        ];

        ImmutableArray<string> lines = RunSummary.Table(runs);

        Assert.Equal(
            [
                "run                started (UTC)     machine    script      state        took         verdict",
                "20261125-0830-kqv  2026-11-25 08:30  wren-240   commission  ended        11 min 38 s  fit",
                "20261124-0700-bcd  2026-11-24 08:30  heron-330  grid        interrupted  1 min 01 s   -",
            ],
            lines.AsEnumerable());
    }

    [Fact]
    public void A_run_in_a_screenful_has_verdict_numbers_steps_and_what_to_do()
    {
        ImmutableArray<string> lines = RunSummary.Show(Commission.Record);

        Assert.StartsWith("Fit, at 96 % confidence", lines[2], StringComparison.Ordinal);
        Assert.Contains(lines, line => line.Contains("\u22122.177 mm ± 0.012 mm", StringComparison.Ordinal));
        Assert.Contains(lines, line => line.Contains("Grid capture", StringComparison.Ordinal) && line.Contains("81", StringComparison.Ordinal));
        Assert.Contains(lines, line => line.StartsWith("1. The bed is higher", StringComparison.Ordinal));
    }

    [Fact]
    public void An_alarm_is_the_first_line()
    {
        var outcome = new RunOutcome.Faulted("The cable was pulled.", new StepVerdict(VerdictWord.Undecided, 0, "no."), "Switch off at the mains now.");
        RunRecord run = RunReader.Read(SampleRun.Header(), new SampleRun().Session().End(outcome).Entries);

        Assert.Equal("ALARM: Switch off at the mains now.", RunSummary.Show(run)[0]);
    }

    [Fact]
    public void Nothing_in_a_summary_can_steer_a_terminal()
    {
        var run = new RunListing("20261125-0830-kqv", "\u001b[2Jwren", "a\u202Eb\nc", SampleRun.Start, RunState.Running, 1, TimeSpan.Zero, null);

        Assert.DoesNotContain(string.Concat(RunSummary.Table([run])) + RunSummary.Line(run), character => char.IsControl(character) || character == '\u202E');
    }
}
