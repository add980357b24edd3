using System.Text;
using System.Text.Json;

namespace ProbeRunner.Console.Tests.Analyse;

public class AnalyseNestedTests
{
    // Pastes (Davies and Goldsmith 1972, 6.5; dataset of R's lme4): ten batches, three casks each, two tests each.
    private const string Pastes =
        "A 62.8 62.6;60.1 62.3;62.7 63.1 B 60 61.4;57.5 56.9;61.1 58.9 C 58.7 57.5;63.9 63.1;65.4 63.7 D 57.1 56.4;56.9 58.6;64.7 64.5 "
        + "E 55.1 55.1;54.7 54.2;58.8 57.5 F 63.4 64.9;59.3 58.1;60.5 60 G 62.5 62.6;61 58.7;56.9 57.7 H 59.2 59.4;65.2 66;64.8 64.1 "
        + "I 54.8 54.8;64 64;57.7 56.8 J 58.3 59.3;59.2 59.2;58.9 56.6";

    private static string Csv()
    {
        var text = new StringBuilder("batch,cask,strength\n");
        string[] words = Pastes.Split([' ', ';']);
        for (int batch = 0; batch < 10; batch++)
        {
            for (int test = 0; test < 6; test++)
            {
                text.Append(FormattableString.Invariant($"{words[batch * 7]},{"abc"[test / 2]},{words[(batch * 7) + 1 + test]}\n"));
            }
        }

        return text.ToString();
    }

    [Fact]
    public void Pastes_gives_the_components_of_lme4()
    {
        // R 4.2.2, anova of lm(strength ~ batch / cask); lme4 1.1-31 agrees to 1e-6.
        AnalyseRun run = AnalyseRun.On(Csv(), "nested", "--levels", "batch,cask", "--value", "strength", "--json");

        Assert.Equal((0, string.Empty), (run.ExitCode, run.Error));
        JsonElement[] components = [.. run.Json.GetProperty("components").EnumerateArray()];
        Assert.Equal(["batch", "cask"], components.Take(2).Select(component => component.GetProperty("level").GetString()));
        double[] variances = [1.657308642, 8.433666667, 0.678];
        int[] freedom = [9, 20, 30];
        for (int i = 0; i < 3; i++)
        {
            Assert.Equal(variances[i], components[i].GetProperty("variance").GetDouble(), 8);
            Assert.Equal(freedom[i], components[i].GetProperty("degreesOfFreedom").GetInt32());
        }
    }

    [Fact]
    public void The_object_has_the_keys_that_are_promised()
    {
        JsonElement json = AnalyseRun.On(Csv(), "nested", "--json").Json;

        Assert.Equal(["components"], json.EnumerateObject().Select(property => property.Name));
        Assert.Equal(["level", "variance", "degreesOfFreedom"], json.GetProperty("components")[0].EnumerateObject().Select(property => property.Name));
    }

    [Fact]
    public void A_person_reads_sigmas_with_a_point()
    {
        AnalyseRun run = AnalyseRun.On(Csv(), "nested");

        Assert.Equal(0, run.ExitCode);
        Assert.Contains("sigma 0.823408 mm", run.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("NaN", run.Output, StringComparison.OrdinalIgnoreCase);
    }

    [Theory]
    [InlineData("A,a,62.8\nA,a,62.6\n", "header row")]
    [InlineData("batch,cask,z\nA,a,1\nA,,2\n", "standard input:3:3: the level is empty")]
    [InlineData("batch,cask,z\nA,a,1\nA,b,2\n", "standard input")]
    [InlineData("z\n1\n2\n", "header row")]
    public void Readings_without_an_answer_are_refused(string text, string expected)
    {
        AnalyseRun run = AnalyseRun.On(text, "nested", "--json");

        Assert.Equal((2, string.Empty), (run.ExitCode, run.Output));
        Assert.Contains(expected, run.Error, StringComparison.Ordinal);
    }

    [Fact]
    public void A_column_that_is_not_there_or_asked_for_twice_is_refused()
    {
        Assert.Contains("\"drum\"", AnalyseRun.On(Csv(), "nested", "--levels", "batch,drum").Error, StringComparison.Ordinal);
        Assert.Contains("twice", AnalyseRun.On(Csv(), "nested", "--levels", "batch,batch").Error, StringComparison.Ordinal);
        Assert.Contains("twice", AnalyseRun.On(Csv(), "nested", "--levels", "batch,strength").Error, StringComparison.Ordinal);
    }
}
