using ProbeRunner.Metrology.Series;
using ProbeRunner.Metrology.Verdicts;

namespace ProbeRunner.Metrology.Tests.Series;

public sealed class SteadinessTests
{
    private static readonly SequentialSigmaTest Test = new(new SigmaLimits());

    // Scatter of 0.002 mm without order, by hand.
    private static readonly double[] Still = [0.001, -0.002, 0.003, -0.001, 0.000, 0.002, -0.003, 0.001, -0.001, 0.002, -0.002, 0.000, 0.001, -0.001];

    [Fact]
    public void A_series_that_stands_still_keeps_its_verdict()
    {
        var steadiness = Steadiness.Of(Still, 0.005);

        Assert.Null(steadiness.Trouble);
        SeriesVerdict verdict = Test.Judge(Still);
        Assert.Equal(VerdictState.Fit, verdict.State);
        Assert.Same(verdict, steadiness.Temper(verdict, Still, Test));
    }

    [Fact]
    public void A_drift_larger_than_the_good_sigma_leaves_a_fit_series_undecided_and_says_how_large()
    {
        double[] drifting = [.. Still.Select((reading, ordinal) => (reading / 4) + (0.0008 * ordinal))];

        SeriesAnalysis analysis = SeriesAnalysis.Analyse(drifting).Value;

        Assert.Equal(VerdictState.Undecided, analysis.Verdict.State);
        Assert.Equal(SeriesDefectKind.Drift, analysis.Steadiness.Trouble!.Kind);
        Assert.Equal(0.0008 * 13, analysis.Steadiness.Trouble.Size, 0.001);
        Assert.Contains("drift", analysis.Verdict.Reason, StringComparison.Ordinal);
        Assert.Contains("p < 0.0001", analysis.Verdict.Reason, StringComparison.Ordinal);
    }

    [Fact]
    public void A_drift_too_small_to_matter_changes_nothing()
    {
        double[] drifting = [.. Still.Select((reading, ordinal) => (reading / 20) + (0.0002 * ordinal))];

        Assert.Null(Steadiness.Of(drifting, 0.005).Trouble);
    }

    [Fact]
    public void Scatter_that_is_only_drift_is_not_blamed_on_the_probe_but_scatter_about_the_drift_is()
    {
        double[] onlyDrift = [.. Still.Select((reading, ordinal) => reading + (0.006 * ordinal))];
        double[] both = [.. Still.Select((reading, ordinal) => (12 * reading) + (0.03 * ordinal))];

        Assert.Equal(VerdictState.NotFit, Test.Judge(onlyDrift).State);
        Assert.Equal(VerdictState.Undecided, SeriesAnalysis.Analyse(onlyDrift).Value.Verdict.State);
        Assert.Equal(VerdictState.NotFit, SeriesAnalysis.Analyse(both).Value.Verdict.State);
    }

    [Fact]
    public void First_touches_that_differ_leave_the_series_undecided()
    {
        double[] warming = [.. Still.Select((reading, ordinal) => reading + (ordinal < 2 ? 0.012 : 0))];

        Assert.NotEqual(VerdictState.Fit, SeriesAnalysis.Analyse(warming).Value.Verdict.State);
        Assert.Equal(SeriesDefectKind.WarmUp, Steadiness.Of(warming, 0.005).Trouble!.Kind);
    }
}
