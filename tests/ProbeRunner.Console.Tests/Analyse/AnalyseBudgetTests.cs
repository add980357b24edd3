using System.Text.Json;

namespace ProbeRunner.Console.Tests.Analyse;

public class AnalyseBudgetTests
{
    // JCGM 100:2008, example H.1, lengths in nm; the sensitivities are the Guide's.
    private const string EndGauge =
        """
        coverageProbability = 0.99
        [[contribution]]
        name = "standard"
        value = 50000623
        standardUncertainty = 25
        degreesOfFreedom = 18
        [[contribution]]
        name = "repeated observations"
        value = 215
        standardUncertainty = 5.8
        degreesOfFreedom = 24
        [[contribution]]
        name = "random effects of comparator"
        standardUncertainty = 3.9
        degreesOfFreedom = 5
        [[contribution]]
        name = "systematic effects of comparator"
        standardUncertainty = 6.7
        degreesOfFreedom = 8
        [[contribution]]
        name = "difference of expansion"
        halfWidth = 1e-6
        distribution = "rectangular"
        degreesOfFreedom = 50
        sensitivity = 5000062.3
        [[contribution]]
        name = "difference of temperature"
        halfWidth = 0.05
        distribution = "rectangular"
        degreesOfFreedom = 2
        sensitivity = -575.0071645
        """;

    [Fact]
    public void End_gauge_of_JCGM_100_H_1_comes_out_as_published()
    {
        // H.1: 50 000 838 nm, 32 nm, 16 degrees of freedom, 93 nm for 99 %; unrounded by R 4.2.2.
        AnalyseRun run = AnalyseRun.On(EndGauge, "budget", "--json");

        Assert.Equal((0, string.Empty), (run.ExitCode, run.Error));
        Assert.Equal(50_000_838, run.Json.GetProperty("value").GetDouble());
        Assert.Equal(31.66387911, run.Json.GetProperty("combined").GetDouble(), 7);
        Assert.Equal(16.7518557, run.Json.GetProperty("effectiveDegreesOfFreedom").GetDouble(), 5);
        Assert.Equal(2.920781622, run.Json.GetProperty("coverageFactor").GetDouble(), 8);
        Assert.Equal(92.5, run.Json.GetProperty("expanded").GetDouble(), 1.0);
        Assert.Equal(1, run.Json.GetProperty("shares").EnumerateArray().Sum(share => share.GetProperty("share").GetDouble()), 12);
    }

    [Fact]
    public void The_object_has_the_keys_that_are_promised()
    {
        JsonElement json = AnalyseRun.On(EndGauge, "budget", "--json").Json;

        Assert.Equal(
            ["value", "combined", "effectiveDegreesOfFreedom", "coverageFactor", "expanded", "shares"],
            json.EnumerateObject().Select(property => property.Name));
        Assert.Equal(["name", "share"], json.GetProperty("shares")[0].EnumerateObject().Select(property => property.Name));
    }

    [Fact]
    public void A_person_reads_the_largest_share_first_and_numbers_with_a_point()
    {
        AnalyseRun run = AnalyseRun.On(EndGauge, "budget");

        Assert.Equal(0, run.ExitCode);
        Assert.Contains("31.6639", run.Output, StringComparison.Ordinal);
        string[] lines = run.Output.Split('\n');
        Assert.Contains("standard", lines[Array.FindIndex(lines, line => line.StartsWith("Shares", StringComparison.Ordinal)) + 1], StringComparison.Ordinal);
        Assert.DoesNotContain("NaN", run.Output, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public void A_full_correlation_of_a_difference_takes_the_uncertainty_away()
    {
        AnalyseRun run = AnalyseRun.On(
            """
            [[contribution]]
            name = "there"
            value = 3
            standardUncertainty = 0.2
            [[contribution]]
            name = "back"
            value = 1
            standardUncertainty = 0.2
            sensitivity = -1
            [[correlation]]
            between = ["there", "back"]
            coefficient = 1.0
            """,
            "budget",
            "--json");

        Assert.Equal(0, run.ExitCode);
        Assert.Equal((2.0, 0.0), (run.Json.GetProperty("value").GetDouble(), run.Json.GetProperty("combined").GetDouble()));
        Assert.Equal(JsonValueKind.Null, run.Json.GetProperty("effectiveDegreesOfFreedom").ValueKind);
    }

    [Theory]
    [InlineData("normal", "", 0.5)]
    [InlineData("normal", "coverageFactor = 2.5", 0.4)]
    [InlineData("rectangular", "", 0.577350269)]
    [InlineData("triangular", "", 0.408248290)]
    [InlineData("arcsine", "", 0.707106781)]
    [InlineData("trapezoid", "topRatio = 0.5", 0.456435465)]
    public void A_half_width_becomes_the_standard_deviation_of_its_distribution(string distribution, string more, double expected)
    {
        // JCGM 101:2008, 6.4; normal: common practice, half-width over coverage factor.
        AnalyseRun run = AnalyseRun.On($"[[contribution]]\nname = \"a\"\nhalfWidth = 1\ndistribution = \"{distribution}\"\n{more}\n", "budget", "--json");

        Assert.Equal(expected, run.Json.GetProperty("combined").GetDouble(), 9);
    }

    [Theory]
    [InlineData("[[contribution]]\nname = \"a\"\nstandardUncertainty = \"0.1\"\n", ":3:", "number")]
    [InlineData("[[contribution]]\nname = \"a\"\nstandardUncertainty = -0.1\n", ":3:", "number from 0")]
    [InlineData("[[contribution]]\nname = \"a\"\nstandardUncertainy = 0.1\n", ":3:", "standardUncertainty")]
    [InlineData("[[contribution]]\nname = \"a\"\n", ":1:", "halfWidth")]
    [InlineData("[[contribution]]\nname = \"a\"\nhalfWidth = 1\n", ":1:", "distribution")]
    [InlineData("[[contribution]]\nname = \"a\"\nhalfWidth = 1\ndistribution = \"round\"\n", ":4:", "triangular")]
    [InlineData("[[contribution]]\nname = \"a\"\nstandardUncertainty = nan\n", ":3:", "number")]
    [InlineData("[[contribution]]\nname = \"a\"\nstandardUncertainty = 1\n[[correlation]]\nbetween = [\"a\"]\ncoefficient = 0.5\n", ":5:", "two names")]
    [InlineData("name = \n", ":1:", "TOML")]
    [InlineData("", "standard input", "at least 1")]
    public void A_wrong_budget_is_refused_with_its_place(string text, string place, string expected)
    {
        AnalyseRun run = AnalyseRun.On(text, "budget", "--json");

        Assert.Equal((2, string.Empty), (run.ExitCode, run.Output));
        Assert.Contains(place, run.Error, StringComparison.Ordinal);
        Assert.Contains(expected, run.Error, StringComparison.Ordinal);
    }

    [Fact]
    public void A_name_that_would_steer_a_terminal_or_run_in_a_spreadsheet_is_shown_as_text()
    {
        const string Text = "[[contribution]]\nname = \"=cmd()\\u001b[2J\\u202e\"\nstandardUncertainty = 1\n";
        AnalyseRun people = AnalyseRun.On(Text, "budget");
        AnalyseRun json = AnalyseRun.On(Text, "budget", "--json");

        Assert.Contains("'=cmd()\\u{1B}[2J\\u{202E}", people.Output, StringComparison.Ordinal);
        Assert.DoesNotContain('\u001b', people.Output + json.Output);
        Assert.DoesNotContain('\u202e', people.Output + json.Output);
        Assert.Equal("=cmd()\u001b[2J\u202e", json.Json.GetProperty("shares")[0].GetProperty("name").GetString());
    }
}
