using System.Text;
using System.Text.Json;

namespace ProbeRunner.Console.Tests.Analyse;

public class AnalyseSurfaceTests
{
    // Every 14th or so row and every 10th column of R's volcano dataset, as a bed: x = 30 * row, y = 30 * column, z = (v - 130) / 1000.
    private static readonly int[][] Volcano =
    [
        [100, 101, 101, 108, 108, 107, 103], [114, 124, 165, 180, 168, 130, 104], [115, 143, 174, 156, 173, 162, 110],
        [110, 125, 154, 161, 138, 120, 107], [112, 132, 150, 142, 140, 108, 103], [109, 121, 129, 119, 107, 97, 96], [97, 100, 100, 100, 96, 94, 94],
    ];

    private static string Csv(string lineEnd = "\n")
    {
        var text = new StringBuilder("x,y,z" + lineEnd);
        for (int row = 0; row < 7; row++)
        {
            for (int column = 0; column < 7; column++)
            {
                text.Append(FormattableString.Invariant($"{30 * row},{30 * column},{(Volcano[row][column] - 130) / 1000.0}{lineEnd}"));
            }
        }

        return text.ToString();
    }

    [Fact]
    public void Volcano_as_a_bed_gives_the_plane_of_R_and_the_minimum_zone_of_two_linear_programs()
    {
        // Plane: R 4.2.2 lm. Minimum zone: scipy 1.10.1 linprog and R lpSolve.
        AnalyseRun run = AnalyseRun.On(Csv(), "surface", "--json");

        Assert.Equal((0, string.Empty), (run.ExitCode, run.Error));
        Assert.Equal(49, run.Json.GetProperty("count").GetInt32());
        JsonElement plane = run.Json.GetProperty("plane");
        Assert.Equal(-1.192176871e-04, plane.GetProperty("a").GetDouble(), 12);
        Assert.Equal(-3.724489796e-05, plane.GetProperty("b").GetDouble(), 12);
        Assert.Equal(6.673469388e-03, plane.GetProperty("c").GetDouble(), 11);
        Assert.Equal(0.02372374587, run.Json.GetProperty("rms").GetDouble(), 10);
        Assert.Equal(0.08692857143, run.Json.GetProperty("leastSquaresFlatness").GetDouble(), 10);
        JsonElement zone = run.Json.GetProperty("minimumZone");
        Assert.Equal(0.08, zone.GetProperty("width").GetDouble(), 10);
        Assert.Equal(-5.0e-05, zone.GetProperty("a").GetDouble(), 10);
        Assert.Equal(1.666666667e-05, zone.GetProperty("b").GetDouble(), 10);
        Assert.Equal(0.01, zone.GetProperty("c").GetDouble(), 10);
    }

    [Fact]
    public void The_object_has_the_keys_that_are_promised()
    {
        JsonElement json = AnalyseRun.On(Csv(), "surface", "--json").Json;

        Assert.Equal(["count", "plane", "rms", "leastSquaresFlatness", "minimumZone", "shape", "meshAdequacy"], Names(json));
        Assert.Equal(["a", "b", "c"], Names(json.GetProperty("plane")));
        Assert.Equal(["a", "b", "c", "width"], Names(json.GetProperty("minimumZone")));
        Assert.Equal(["tiltX", "tiltY", "bowX", "bowY", "twist"], Names(json.GetProperty("shape")));
        Assert.Equal(["columns", "rows", "rms", "worst"], Names(json.GetProperty("meshAdequacy")[0]));
    }

    [Fact]
    public void A_thinned_mesh_is_judged_by_the_readings_that_it_leaves_out()
    {
        // By hand: a roof over five columns, z = 0 0 1 0 0 in each row; keeping every second column keeps the ridge
        // and the edges, so the columns between are 0.5 off; keeping every fourth loses the ridge, 1 off.
        string text = string.Concat(Enumerable.Range(0, 25).Select(i => FormattableString.Invariant($"{i % 5},{i / 5},{(i % 5 == 2 ? 1 : 0)}\n")));
        JsonElement[] meshes = [.. AnalyseRun.On(text, "surface", "--json").Json.GetProperty("meshAdequacy").EnumerateArray()];

        Assert.Equal([3, 2], meshes.Select(mesh => mesh.GetProperty("columns").GetInt32()));
        Assert.Equal([0.5, 1], meshes.Select(mesh => mesh.GetProperty("worst").GetDouble()));
        Assert.Equal(Math.Sqrt(0.1), meshes[0].GetProperty("rms").GetDouble(), 12);
    }

    [Fact]
    public void A_tolerance_names_the_smallest_mesh_that_keeps_it()
    {
        string text = string.Concat(Enumerable.Range(0, 25).Select(i => FormattableString.Invariant($"{i % 5},{i / 5},{(i % 5 == 2 ? 1 : 0)}\n")));

        Assert.Contains("within 0.6 mm everywhere: 3 x 3", AnalyseRun.On(text, "surface", "--tolerance", "0.6").Output, StringComparison.Ordinal);
        Assert.Contains("denser mesh", AnalyseRun.On(text, "surface", "--tolerance", "0.4").Output, StringComparison.Ordinal);
        Assert.Equal(2, AnalyseRun.On(text, "surface", "--tolerance", "0,4").ExitCode);
        Assert.Equal(2, AnalyseRun.On(text, "surface", "--tolerance", "0").ExitCode);
    }

    [Fact]
    public void Columns_are_found_by_name_in_any_order_and_any_line_ending()
    {
        AnalyseRun run = AnalyseRun.On("z,note,y,x\r\n1,a,0,0\r\n2,\"b, c\",0,10\r\n3,,10,0\r\n", "surface", "--json");

        Assert.Equal(0.1, run.Json.GetProperty("plane").GetProperty("a").GetDouble(), 12);
        Assert.Equal(0.2, run.Json.GetProperty("plane").GetProperty("b").GetDouble(), 12);
        Assert.Equal(JsonValueKind.Null, run.Json.GetProperty("shape").ValueKind);
        Assert.Equal(0, run.Json.GetProperty("meshAdequacy").GetArrayLength());
    }

    [Fact]
    public void A_person_reads_points_and_never_a_number_that_is_none()
    {
        AnalyseRun run = AnalyseRun.OnFile(Encoding.UTF8.GetBytes("\uFEFF" + Csv("\r\n")), "surface");

        Assert.Equal(0, run.ExitCode);
        Assert.Contains("0.08 mm", run.Output, StringComparison.Ordinal);
        Assert.Contains("4 x 4", run.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("NaN", run.Output, StringComparison.OrdinalIgnoreCase);
    }

    [Theory]
    [InlineData("0,0,1\n1,1,1\n2,2,1\n", "standard input")]
    [InlineData("0,0,1\n1,0,1\n", "at least 3")]
    [InlineData("0,0\n1,0\n0,1\n", "x,y,z")]
    [InlineData("x,y,h\n0,0,1\n", "\"z\"")]
    [InlineData("x,y,z\n0,0,1\n0,one,1\n", "standard input:3:3")]
    public void Readings_without_an_answer_are_refused(string text, string expected)
    {
        AnalyseRun run = AnalyseRun.On(text, "surface", "--json");

        Assert.Equal((2, string.Empty), (run.ExitCode, run.Output));
        Assert.Contains(expected, run.Error, StringComparison.Ordinal);
    }

    [Fact]
    public void A_file_that_is_not_text_or_not_there_is_refused()
    {
        Assert.Contains("UTF-8", AnalyseRun.OnFile([0x31, 0xFF, 0xFE], "surface").Error, StringComparison.Ordinal);
        AnalyseRun missing = AnalyseRun.Run(() => TextReader.Null, "surface", "nowhere.csv");
        Assert.Equal(2, missing.ExitCode);
        Assert.StartsWith("nowhere.csv: there is no such file", missing.Error, StringComparison.Ordinal);
    }

    private static IEnumerable<string> Names(JsonElement json) => json.EnumerateObject().Select(property => property.Name);
}
