namespace ProbeRunner.Console.Tests.Analyse;

public class AnalyseThresholdTests
{
    // Hamada, Mang and Hoff, Quality Engineering 2019, Table 1; x is the logarithm of the drop height.
    private static readonly double[] Heights =
    [
        25.4, 28.5, 25.4, 28.5, 32.0, 35.9, 32.0, 35.9, 40.3, 35.9, 32.0, 28.5, 32.0, 28.5, 32.0, 28.5, 32.0, 35.9, 40.3, 35.9, 32.0, 35.9,
        40.3, 35.9, 40.3,
    ];

    private static readonly int[] Felt = [0, 1, 0, 0, 0, 1, 0, 0, 1, 1, 1, 0, 1, 0, 1, 0, 0, 0, 1, 1, 0, 0, 1, 0, 1];

    private static string Csv(string header = "height,felt\n") =>
        header + string.Concat(Heights.Zip(Felt, (height, felt) => FormattableString.Invariant($"{Math.Log10(height):R},{felt}\n")));

    [Fact]
    public void A_published_staircase_gives_the_published_threshold_and_scale()
    {
        // Article: mu 1.531691, sigma .073731988; fully converged by R 4.2.2 glm: 1.531690616, .07373180784.
        AnalyseRun run = AnalyseRun.On(Csv(), "threshold", "--json");

        Assert.Equal((0, string.Empty), (run.ExitCode, run.Error));
        Assert.Equal(1.531690616, run.Json.GetProperty("threshold").GetDouble(), 8);
        Assert.Equal(0.07373180784, run.Json.GetProperty("scale").GetDouble(), 8);
        Assert.InRange(run.Json.GetProperty("standardError").GetDouble(), 0.015, 0.03);
        Assert.Contains("probit", run.Json.GetProperty("method").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public void The_object_has_the_keys_that_are_promised() => Assert.Equal(
        ["threshold", "standardError", "scale", "method"],
        AnalyseRun.On(Csv(), "threshold", "--json").Json.EnumerateObject().Select(property => property.Name));

    [Fact]
    public void Names_of_columns_may_be_left_out() =>
        Assert.Equal(AnalyseRun.On(Csv(), "threshold", "--json"), AnalyseRun.On(Csv(header: string.Empty), "threshold", "--json"));

    [Fact]
    public void A_person_reads_points()
    {
        AnalyseRun run = AnalyseRun.On(Csv(), "threshold");

        Assert.Equal(0, run.ExitCode);
        Assert.Contains("1.53169 mm", run.Output, StringComparison.Ordinal);
        Assert.Contains("25 answers, 11 felt", run.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("NaN", run.Output, StringComparison.OrdinalIgnoreCase);
    }

    [Theory]
    [InlineData("height,felt\n1,0\n2,2\n", "standard input:3:3: \"2\" is no answer")]
    [InlineData("height,felt\n1,yes\n", "standard input:2:3: \"yes\" is no answer")]
    [InlineData("height,felt\n1,0\n2,0\n3,0\n", "standard input")]
    [InlineData("height,answer\n1,0\n", "\"felt\"")]
    [InlineData("1\n2\n", "height,felt")]
    public void Answers_without_a_threshold_are_refused(string text, string expected)
    {
        AnalyseRun run = AnalyseRun.On(text, "threshold", "--json");

        Assert.Equal((2, string.Empty), (run.ExitCode, run.Output));
        Assert.Contains(expected, run.Error, StringComparison.Ordinal);
    }
}
