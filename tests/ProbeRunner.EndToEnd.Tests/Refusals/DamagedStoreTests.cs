using ProbeRunner.EndToEnd.Tests.Harness;

namespace ProbeRunner.EndToEnd.Tests.Refusals;

/// <summary>A store that is not what was written: said in a sentence by every command, the sound part of a run still given.</summary>
public sealed class DamagedStoreTests
{
    [Fact]
    public async Task A_damaged_byte_is_told_by_every_command_and_the_rows_before_it_are_shown_and_exported()
    {
        await using var bench = await Bench.StartAsync();
        var id = await RunAsync(bench);
        var bytes = await File.ReadAllBytesAsync(bench.Store);
        var inAReading = bytes.AsSpan().LastIndexOf("\"z\":"u8) + 5;
        bytes[inAReading] ^= 0x41;
        await File.WriteAllBytesAsync(bench.Store, bytes);

        foreach (var (command, wanted) in new[] { ("watch", 2), ("show", 1), ("export", 1), ("report", 1) })
        {
            string[] into = command is "export" or "report" ? ["-o", bench.File(command)] : [];
            var (exitCode, _, errors) = await ProgramProcess.RunAsync([command, id, .. into, "--store", bench.Store]);

            Assert.True(exitCode == wanted, $"{command}: {exitCode}\n{errors}");
            Assert.Contains("damaged from row", errors, StringComparison.Ordinal);
            Assert.DoesNotContain("   at ", errors, StringComparison.Ordinal);
        }

        Assert.NotEmpty((await File.ReadAllLinesAsync(bench.File("export/readings.csv"))).Skip(1));
        await using var resumed = bench.Resume(id);
        Assert.Equal(2, await resumed.ExitAsync());
        Assert.Contains("damaged from row", resumed.Errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_store_cut_short_is_told_by_every_command_and_no_run_is_begun_in_it()
    {
        await using var bench = await Bench.StartAsync();
        var id = await RunAsync(bench);
        var bytes = await File.ReadAllBytesAsync(bench.Store);
        await File.WriteAllBytesAsync(bench.Store, bytes[..(bytes.Length / 2)]);

        foreach (var command in new[] { "watch", "show", "stop" })
        {
            var (exitCode, _, errors) = await ProgramProcess.RunAsync(command, id, "--store", bench.Store);

            Assert.True(exitCode == 2, $"{command}: {exitCode}\n{errors}");
            Assert.Contains("damaged", errors, StringComparison.Ordinal);
            Assert.DoesNotContain("   at ", errors, StringComparison.Ordinal);
        }

        await using var next = bench.Begin("grid");
        Assert.Equal(2, await next.ExitAsync());
        Assert.DoesNotContain("\"reading\"", next.Output, StringComparison.Ordinal);
        Assert.Contains("damaged", next.Errors, StringComparison.Ordinal);
    }

    private static async Task<string> RunAsync(Bench bench)
    {
        await using var run = bench.Begin("grid", "--set", "grid.columns=4", "--set", "grid.rows=4", "--set", "grid.touches=1");
        Assert.InRange(await run.ExitAsync(), 0, 1);
        return await Bench.RunIdAsync(run);
    }
}
