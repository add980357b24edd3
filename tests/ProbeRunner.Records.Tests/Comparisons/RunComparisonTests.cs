using ProbeRunner.Machine.Touches;
using ProbeRunner.Metrology.CaptureComparison;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Records.Comparisons;
using ProbeRunner.Records.Runs;
using ProbeRunner.Records.Summaries;
using ProbeRunner.Records.Tests.Sample;

namespace ProbeRunner.Records.Tests.Comparisons;

public sealed class RunComparisonTests
{
    [Fact]
    public void A_run_compared_with_itself_shows_nothing_that_matters()
    {
        RunComparison comparison = RunComparison.Of(Commission.Record, Commission.Record);

        Assert.Equal(Mattering.No, comparison.Matters);
        Assert.Empty(comparison.Missing);
        Assert.Equal((0, 1), (comparison.Offset!.Change, comparison.Probe!.Change));
        Assert.All(comparison.Bed!.Terms, term => Assert.Equal(0, term.ChangeMm, 9));
        Assert.Equal("Nothing changed that matters.", ComparisonSummary.Lines(comparison)[^1]);
    }

    [Fact]
    public void What_changed_is_found_with_its_interval_whichever_run_is_named_first()
    {
        // By hand: the later offset is 0.05 lower, each known to 0.0062, so +-1.96 x 0.0062 x sqrt(2) = 0.0172; its bed's right side is 0.2 higher.
        RunRecord later = Changed(Commission.Record, -0.05, reading => reading with { Z = reading.Z + (0.2 * (reading.Place.X - 103.5) / 187) });

        RunComparison comparison = RunComparison.Of(later, Commission.Record);

        Assert.Equal(Commission.Record.Header.RunId, comparison.Earlier);
        Assert.Equal(-0.05, comparison.Offset!.Change, 6);
        Assert.Equal(-0.05 - 0.0172, comparison.Offset.Lower, 0.0001);
        Assert.Equal(Mattering.Yes, comparison.Offset.Matters);
        JudgedChange tilt = comparison.Bed!.Terms.Single(term => term.Name == "tilt left to right");
        Assert.Equal(0.2, tilt.ChangeMm, 0.01);
        Assert.Equal(Mattering.Yes, tilt.Matters);
        Assert.Equal(Mattering.No, comparison.Probe!.Matters);
        Assert.Equal("Something changed that matters.", ComparisonSummary.Lines(comparison)[^1]);
    }

    [Theory]
    [InlineData(21, 23, false)] // a degree or two of the room is no other condition
    [InlineData(21, 60, true)]
    public void Conditions_differ_by_the_bed_s_temperature_and_not_by_its_last_digit(double then, double now, bool differ) =>
        Assert.Equal(differ, RunComparison.Of(At(Commission.Record, 0, then), At(Commission.Record, 1, now)).ConditionsDiffer);

    [Fact]
    public void What_a_run_has_not_is_named_and_not_made_up()
    {
        RunComparison comparison = RunComparison.Of(Commission.Record, Commission.Stopped);

        Assert.Null(comparison.Offset);
        Assert.Null(comparison.Bed);
        Assert.NotNull(comparison.Probe);
        Assert.Equal(2, comparison.Missing.Length);
    }

    /// <summary>The run a day later, its offset and bed changed.</summary>
    private static RunRecord Changed(RunRecord run, double offsetMm, Func<Reading, Reading> bed) => run with
    {
        Header = run.Header with { RunId = "20261126-0830-kqv", StartedAt = run.Header.StartedAt.AddDays(1) },
        Steps =
        [
            .. run.Steps.Select(step => step with
            {
                Conclusion = step.Conclusion switch
                {
                    StepDownConclusion down => down with { OffsetMm = down.OffsetMm + offsetMm },
                    CaptureConclusion capture => capture with { Readings = [.. capture.Readings.Select(bed)] },
                    var other => other,
                },
            }),
        ],
    };

    private static RunRecord At(RunRecord run, int day, double bedCelsius) => run with
    {
        Header = run.Header with { StartedAt = run.Header.StartedAt.AddDays(day) },
        Steps = [.. run.Steps.Select(step => step.Conclusion is CaptureConclusion capture
            ? step with { Conclusion = capture with { TakenUnder = new TakenUnder(bedCelsius, 21, 0) } }
            : step)],
    };
}
