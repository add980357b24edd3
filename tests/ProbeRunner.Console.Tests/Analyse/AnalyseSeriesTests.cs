using System.Text;
using System.Text.Json;

namespace ProbeRunner.Console.Tests.Analyse;

public class AnalyseSeriesTests
{
    // NIST StRD univariate, Mavro: y = 2 + v * 1e-4.
    private static readonly int[] Mavro =
    [
        18, 17, 18, 19, 18, 17, 15, 14, 15, 15, 17, 18, 18, 19, 19, 21, 20, 16, 14, 13, 13, 15, 15, 16, 15, 14, 13, 14, 15, 14, 15, 16, 15, 16,
        19, 20, 20, 21, 22, 23, 24, 25, 27, 26, 26, 26, 27, 26, 25, 24,
    ];

    private static readonly double[] GoodProbe = [0.001, -0.002, 0, 0.003, -0.001, 0.002, 0, -0.001, 0.001, 0.002, -0.003, 0, 0.001, -0.001];

    private static string Csv(IEnumerable<double> readings, string header = "", string lineEnd = "\n") =>
        header + string.Concat(readings.Select(reading => FormattableString.Invariant($"{reading}{lineEnd}")));

    private static string MavroCsv(string header = "", string lineEnd = "\n") => Csv(Mavro.Select(v => 2 + (v * 1e-4)), header, lineEnd);

    [Fact]
    public void Mavro_gives_the_certified_values_of_NIST()
    {
        // NIST StRD, Mavro.dat, certified values.
        AnalyseRun run = AnalyseRun.On(MavroCsv(), "series", "--json");

        Assert.Equal(string.Empty, run.Error);
        Assert.Equal(50, run.Json.GetProperty("count").GetInt32());
        Assert.Equal(2.00185600000000, run.Json.GetProperty("mean").GetDouble(), 13);
        Assert.Equal(0.000429123454003053, run.Json.GetProperty("standardDeviation").GetDouble(), 14);
        Assert.Equal(0.937989183438248, run.Json.GetProperty("lag1Autocorrelation").GetDouble(), 10);
    }

    [Fact]
    public void Header_quotes_comments_and_line_ends_change_nothing()
    {
        string plain = AnalyseRun.On(MavroCsv(), "series", "--json").Output;

        Assert.Equal(plain, AnalyseRun.On("# bench\r\n" + MavroCsv("\"z\"\r\n", "  \r\n"), "series", "--json").Output);
        Assert.Equal(plain, AnalyseRun.OnFile(Encoding.UTF8.GetBytes("\uFEFF" + MavroCsv("z mm\n")), "series", "--json").Output);
        string columns = "n,z\n" + string.Concat(Mavro.Select((v, i) => FormattableString.Invariant($"{i},{2 + (v * 1e-4)}\n")));
        Assert.Equal(plain, AnalyseRun.On(columns, "series", "--column", "Z", "--json").Output);
    }

    [Fact]
    public void The_object_has_the_keys_that_are_promised()
    {
        JsonElement json = AnalyseRun.On(MavroCsv(), "series", "--json").Json;

        Assert.Equal(
            ["count", "mean", "median", "standardDeviation", "range", "lag1Autocorrelation", "sigmaInterval", "outliers", "trend", "normality", "capability", "verdict"],
            Names(json));
        Assert.Equal(["confidence", "lower", "upper"], Names(json.GetProperty("sigmaInterval")));
        Assert.Equal(["slopePerReading", "mannKendallS", "pValue"], Names(json.GetProperty("trend")));
        Assert.Equal(["andersonDarling", "pValue"], Names(json.GetProperty("normality")));
        Assert.Equal(["state", "confidence", "reason"], Names(json.GetProperty("verdict")));
        Assert.Equal(JsonValueKind.Null, json.GetProperty("capability").ValueKind);
    }

    [Fact]
    public void Outliers_of_Rosner_are_counted_from_zero()
    {
        // NIST/SEMATECH e-Handbook 1.3.5.17.3: three outliers, 6.01, 5.42 and 5.34, the last three of 54 sorted values.
        const string Rosner =
            "-0.25 0.68 0.94 1.15 1.20 1.26 1.26 1.34 1.38 1.43 1.49 1.49 1.55 1.56 1.58 1.65 1.69 1.70 1.76 1.77 1.81 1.91 1.94 1.96 1.99 2.06 2.09 "
            + "2.10 2.14 2.15 2.23 2.24 2.26 2.35 2.37 2.40 2.47 2.54 2.62 2.64 2.90 2.92 2.92 2.93 3.21 3.26 3.30 3.59 3.68 4.30 4.64 5.34 5.42 6.01";
        JsonElement json = AnalyseRun.On(Rosner.Replace(' ', '\n'), "series", "--json").Json;

        Assert.Equal([51, 52, 53], json.GetProperty("outliers").EnumerateArray().Select(index => index.GetInt32()));
        Assert.Equal(1.735689163, json.GetProperty("normality").GetProperty("andersonDarling").GetDouble(), 8); // R 4.2.2 nortest
    }

    [Fact]
    public void A_steady_probe_is_fit_and_a_scattering_one_is_not()
    {
        AnalyseRun good = AnalyseRun.On(Csv(GoodProbe), "series", "--json");
        AnalyseRun bad = AnalyseRun.On(Csv(GoodProbe.Select(z => 20 * z)), "series", "--json");

        Assert.Equal((0, "fit"), (good.ExitCode, good.Json.GetProperty("verdict").GetProperty("state").GetString()));
        Assert.Equal((1, "notFit"), (bad.ExitCode, bad.Json.GetProperty("verdict").GetProperty("state").GetString()));
        Assert.InRange(good.Json.GetProperty("verdict").GetProperty("confidence").GetDouble(), 0.5, 1);
    }

    [Fact]
    public void Two_readings_leave_it_undecided_and_say_so()
    {
        AnalyseRun run = AnalyseRun.On("0.001\n0.004\n", "series", "--json");

        Assert.Equal((1, "undecided"), (run.ExitCode, run.Json.GetProperty("verdict").GetProperty("state").GetString()));
        Assert.Equal(0.003, run.Json.GetProperty("trend").GetProperty("slopePerReading").GetDouble(), 12);
        Assert.Equal(JsonValueKind.Null, run.Json.GetProperty("normality").ValueKind);
        Assert.Contains("more readings", AnalyseRun.On("0.001\n0.004\n", "series").Output, StringComparison.Ordinal);
    }

    [Fact]
    public void The_limits_of_the_verdict_can_be_set_whatever_the_culture() =>
        Assert.Equal(0, AnalyseRun.On(Csv(GoodProbe.Select(z => 20 * z)), "series", "--good-sigma", "0.1", "--bad-sigma", "0.2").ExitCode);

    [Fact]
    public void Capability_is_refused_with_its_reason_when_the_series_drifts()
    {
        AnalyseRun json = AnalyseRun.On(MavroCsv(), "series", "--tolerance", "0.02", "--reference", "2.0018", "--json");
        AnalyseRun text = AnalyseRun.On(MavroCsv(), "series", "--tolerance", "0.02", "--reference", "2.0018");

        Assert.Equal(JsonValueKind.Null, json.Json.GetProperty("capability").ValueKind);
        Assert.Contains("Capability: refused. The series drifts", text.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void Capability_of_a_steady_series_is_stated()
    {
        // Type-1 study by its formula (common practice, 0.2 T / 6 s): 30 readings that alternate by +-0.001 in no order of their own.
        int[] signs = [1, -1, -1, 1, 1, -1, 1, 1, -1, -1, 1, -1, 1, -1, -1, -1, 1, 1, -1, 1, -1, 1, 1, -1, -1, 1, -1, 1, 1, -1];
        AnalyseRun run = AnalyseRun.On(Csv(signs.Select(sign => 0.001 * sign)), "series", "--tolerance", "0.1", "--reference", "0", "--json");

        double s = 0.001 * Math.Sqrt(30.0 / 29);
        Assert.Equal(0.2 * 0.1 / (6 * s), run.Json.GetProperty("capability").GetProperty("cg").GetDouble(), 9);
        Assert.Equal(0.1 * 0.1 / (3 * s), run.Json.GetProperty("capability").GetProperty("cgk").GetDouble(), 9);
    }

    [Fact]
    public void A_person_reads_the_verdict_first_and_no_number_that_is_none()
    {
        foreach (string text in new[] { Csv(GoodProbe), MavroCsv(), "1\n1\n", "1\n1\n1\n1\n1\n1\n1\n1\n1\n1\n" })
        {
            AnalyseRun run = AnalyseRun.On(text, "series", "--tolerance", "0.1");

            Assert.StartsWith("Verdict:", run.Output.Split('\n')[1], StringComparison.Ordinal);
            Assert.DoesNotContain("NaN", run.Output, StringComparison.OrdinalIgnoreCase);
            Assert.DoesNotContain("∞", run.Output, StringComparison.Ordinal);
        }
    }

    [Theory]
    [InlineData("0.1\n0,2\n", "standard input:2:3: this row has 2 field(s)")]
    [InlineData("0,1\n0,2\n", "standard input:1:3: there are 2 columns; expected one column of numbers with a decimal point")]
    [InlineData("a,b\n1,2\n", "--column: a, b")]
    [InlineData("0.1\n", "at least 2")]
    [InlineData("", "holds no readings")]
    [InlineData("0.1\n#0.2\n0.3 mm\n", "standard input:3:1: \"0.3 mm\" is not a number")]
    public void A_file_that_is_no_series_is_refused(string text, string expected)
    {
        AnalyseRun run = AnalyseRun.On(text, "series", "--json");

        Assert.Equal((2, string.Empty), (run.ExitCode, run.Output));
        Assert.Contains(expected, run.Error, StringComparison.Ordinal);
        Assert.Contains("Nothing was computed", run.Error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("--good-sigma", "0.02")]
    [InlineData("--good-sigma", "0,002")]
    [InlineData("--bad-sigma", "-1")]
    [InlineData("--bad-sigma", "0.005")]
    [InlineData("--reference", "1")]
    [InlineData("--tolerance", "nan")]
    public void Options_that_make_no_sense_are_wrong_use(string option, string value) =>
        Assert.Equal(2, AnalyseRun.On("0.1\n0.2\n", "series", option, value).ExitCode);

    private static IEnumerable<string> Names(JsonElement json) => json.EnumerateObject().Select(property => property.Name);
}
