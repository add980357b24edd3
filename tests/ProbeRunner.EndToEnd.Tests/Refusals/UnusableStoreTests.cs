using ProbeRunner.EndToEnd.Tests.Harness;

namespace ProbeRunner.EndToEnd.Tests.Refusals;

/// <summary>A store that can't be used: told before anything is sent to the machine.</summary>
public sealed class UnusableStoreTests
{
    [Fact]
    public async Task A_store_that_cannot_be_written_is_told_before_a_byte_is_sent()
    {
        if (!OperatingSystem.IsLinux())
        {
            return; // no folder there that refuses the superuser too
        }

        await using var bench = await Bench.StartAsync();
        foreach (var (store, wanted) in new[] { ("/proc/runs.db", "may write there"), ("/proc/runs/runs.db", "cannot be made"), (bench.File("."), "is a folder") })
        {
            await using var run = bench.BeginWithStore(store, "grid");
            Assert.Equal(2, await run.ExitAsync());
            Assert.Contains(wanted, run.Errors, StringComparison.Ordinal);
            Assert.Contains("--store", run.Errors, StringComparison.Ordinal);
            Assert.DoesNotContain("   at ", run.Errors, StringComparison.Ordinal);
        }

        Assert.Equal(0, bench.BytesReceived);
    }

    [Fact]
    public async Task A_disk_that_is_full_already_is_told_before_a_byte_is_sent()
    {
        if (OperatingSystem.IsWindows())
        {
            return; // no limit on the size of files there
        }

        await using var bench = await Bench.StartAsync();
        await using var run = bench.BeginOnAFullDisk(kilobytes: 8, "grid");

        Assert.Equal(2, await run.ExitAsync());
        Assert.Contains("make room", run.Errors, StringComparison.Ordinal);
        Assert.Equal(0, bench.BytesReceived);
    }
}
