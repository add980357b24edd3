using ProbeRunner.EndToEnd.Tests.Harness;

namespace ProbeRunner.EndToEnd.Tests.Unattended;

/// <summary>Heat with nobody there: refused unless everything that holds it in check is there.</summary>
public sealed class HeatRefusalTests
{
    /// <summary>The trial counts wherever it was done, not only in a run of its own.</summary>
    private const string TrialInAScript = """
        title = "Trust the heaters?"
        [[step]]
        do = "silence-trial"
        [[step]]
        do = "conclusions"
        """;

    [Fact]
    public async Task Heating_with_nobody_there_is_refused_with_what_to_do_about_it()
    {
        await using var bench = await Bench.StartAsync();

        await using var run = bench.Begin("warm-up", "--unattended");
        Assert.Equal(2, await run.ExitAsync());

        Assert.Contains("--allow-heat MINUTES", run.Errors, StringComparison.Ordinal);
        Assert.Contains("silence-trial", run.Errors, StringComparison.Ordinal);
        Assert.DoesNotContain("mains", run.Errors, StringComparison.Ordinal); // nothing was heated: no alarm
        var (_, listed, _) = await ProgramProcess.RunAsync("runs", "--store", bench.Store);
        Assert.DoesNotContain("warm-up", listed, StringComparison.Ordinal); // and no record of a run that never was
    }

    [Fact]
    public async Task A_controller_shown_to_keep_its_heaters_on_is_never_heated_alone()
    {
        await using var bench = await Bench.StartAsync();
        await File.WriteAllTextAsync(bench.File("trust-heat.toml"), TrialInAScript);
        await using (var trial = bench.Begin(bench.File("trust-heat.toml")))
        {
            Assert.True(await trial.ExitAsync() == 1, $"{trial.Output}\n{trial.Errors}");
        }

        await using var run = bench.Begin("warm-up", "--unattended", "--allow-heat", "60");
        Assert.Equal(2, await run.ExitAsync());

        Assert.Contains("must not be heated with nobody there", run.Errors, StringComparison.Ordinal);
    }
}
