using CsCheck;

namespace ProbeRunner.Console.Tests.Analyse;

public class AnyInputTests
{
    private static readonly string[] Kinds = ["series", "nested", "threshold", "surface", "budget"];

    private static readonly Gen<string> Noise = Gen.String[Gen.Char["01.,;\t\"#\r\n -exNab=[]\u001b\u202e\uFEFF"], 0, 80];

    // Rows that are nearly right: numbers of all sizes, a few of them not numbers, in one to four columns.
    private static readonly Gen<string> Fields = Gen.OneOf(
        Gen.Double[-2, 2].Select(number => FormattableString.Invariant($"{number:R}")),
        Gen.OneOfConst("0", "1", "1", "0", "1e300", "-1e12", "1e12", "1e-320", "a", "b", "0.005", "nan", string.Empty));

    private static readonly Gen<string> Rows = Gen.Select(Gen.Int[1, 4], Gen.OneOfConst(string.Empty, "x,y,z\n", "height,felt\n", "z\n", "a,b,z\n"))
        .SelectMany((width, header) => Fields.Array[width].Array[0, 20].Select(rows => header + string.Join('\n', rows.Select(row => string.Join(',', row)))));

    [Fact]
    public void Any_text_gives_a_result_or_a_reason_and_no_number_that_is_none() =>
        Gen.Select(Gen.OneOf(Noise, Rows), Gen.OneOfConst(Kinds), Gen.Bool).Sample(
            (text, kind, json) =>
            {
                AnalyseRun run = json ? AnalyseRun.On(text, kind, "--json") : AnalyseRun.On(text, kind);
                Assert.InRange(run.ExitCode, 0, 2);
                Assert.Equal(run.ExitCode == 2, run.Output.Length == 0);
                Assert.Equal(run.ExitCode == 2, run.Error.Length > 0);
                Assert.DoesNotContain("NaN", run.Output, StringComparison.OrdinalIgnoreCase);
                Assert.DoesNotContain("Infinity", run.Output, StringComparison.OrdinalIgnoreCase);
                Assert.DoesNotContain('\u001b', run.Output + run.Error);
                Assert.DoesNotContain('\u202e', run.Output + run.Error);
                if (json && run.ExitCode != 2)
                {
                    Assert.Equal(System.Text.Json.JsonValueKind.Object, run.Json.ValueKind);
                }
            },
            iter: 3000);
}
