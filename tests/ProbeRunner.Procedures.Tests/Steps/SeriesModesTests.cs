using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Scripts;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Procedures.Tests.Steps;

public sealed class SeriesModesTests
{
    /// <summary>Standard normal numbers by the method of Box and Muller (1958).</summary>
    private static readonly double[] Noise = Normals(new Random(5), 600);

    [Theory]
    [InlineData("plate", "plate")]
    [InlineData("extensions", "extension")]
    [InlineData("homings", "homing")]
    [InlineData("travel", "travel")]
    [InlineData("places", "place")]
    public void Every_design_names_its_own_source_and_a_good_probe_is_never_not_fit(string mode, string source) => VirtualTime.Run(async time =>
    {
        var bench = Good(time);

        await bench.RunAsync(Script(mode));

        SeriesConclusion series = bench.Conclusion<SeriesConclusion>();
        Assert.Equal(mode, series.Design);
        Assert.Equal([source, "touch"], series.Parts!.Select(part => part.Source));
        Assert.True(series.Parts![^1].LowerMm <= 0.002 && series.Parts[^1].UpperMm >= 0.002, series.Verdict.Reason);
        Assert.NotEqual(VerdictWord.NotFit, series.Verdict.State);
        Assert.Equal(mode == "plate", bench.Person.Asked.Contains(PromptIds.SeriesPlateBack));
    });

    [Fact]
    public void The_nested_design_finds_that_a_bad_homing_scatters_and_not_the_touch() => VirtualTime.Run(async time =>
    {
        var bench = Good(time);
        bench.Printer.HomeNoise = homing => 0.02 * Noise[homing];

        await bench.RunAsync(Script("nested"));

        SeriesConclusion series = bench.Conclusion<SeriesConclusion>();
        Assert.Equal(VerdictWord.NotFit, series.Verdict.State);
        Assert.Equal("series.scatter-from-homing", series.Findings[0].Id);
        ScatterPart homing = series.Parts![0];
        Assert.True(homing.LowerMm <= 0.02 && homing.UpperMm >= 0.02, series.Verdict.Reason);
        Assert.True(series.SigmaMm < 0.004, "the touches' own scatter must stay free of the homing's");
    });

    [Fact]
    public void A_homing_series_of_a_bad_homing_stops_before_all_homings_are_done() => VirtualTime.Run(async time =>
    {
        var bench = Good(time);
        bench.Printer.HomeNoise = homing => 0.05 * Noise[homing];

        await bench.RunAsync(Script("homings", "groups = 30"));

        Assert.True(bench.Conclusion<SeriesConclusion>().Readings.Length < 40);
    });

    [Fact]
    public void A_plain_series_that_drifts_is_undecided_and_its_finding_says_by_how_much() => VirtualTime.Run(async time =>
    {
        var bench = Good(time);
        bench.Printer.TouchNoise = touch => 0.003 * touch;

        await bench.RunAsync(Script("plain"));

        SeriesConclusion series = bench.Conclusion<SeriesConclusion>();
        Assert.Equal(VerdictWord.Undecided, series.Verdict.State);
        Finding finding = series.Findings[0];
        Assert.Equal("series.not-steady", finding.Id);
        Assert.Equal(0.003 * (series.Readings.Length - 1), finding.EffectMm!.Value, 0.0005);
    });

    private static TestBench Good(TimeProvider time)
    {
        var bench = new TestBench(time);
        bench.Printer.TouchNoise = touch => 0.002 * Noise[200 + touch];
        return bench;
    }

    private static double[] Normals(Random chance, int count) =>
        [.. Enumerable.Range(0, count).Select(_ => Math.Sqrt(-2 * Math.Log(1 - chance.NextDouble())) * Math.Cos(2 * Math.PI * chance.NextDouble()))];

    private static RunScript Script(string mode, string more = "") =>
        TestBench.Steps("first-lift", "home", $"do = \"series\"\nmode = \"{mode}\"\n{more}");
}
