using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Printers;

namespace ProbeRunner.Machine.Tests.Printers;

public sealed class ZFeedTests
{
    private static readonly BedPoint Middle = new(120, 120);

    [Fact]
    public void A_limit_is_read_back_and_slows_touches() => SimulatedBench.Run(SimulatedBench.Good(), async bench =>
    {
        double? found = await bench.Printer.ReadHighestZFeedAsync(default);
        Assert.Equal(bench.Host.Scenario.Travel.MaxFeedZ * 60, found!.Value, 0.01);
        await bench.Printer.LiftUnhomedAsync(5, default);
        await bench.Printer.HomeAsync(Axes.XY, default);
        await bench.Printer.HomeAsync(Axes.Z, default);
        await bench.Printer.TouchAsync(Middle, default);

        double fast = await SecondsAsync(bench);
        Assert.Equal(60, await bench.Printer.LimitZFeedAsync(60, default), 0.01);
        double slow = await SecondsAsync(bench);
        await bench.Printer.LimitZFeedAsync(found.Value, default);

        Assert.True(slow > fast + 5, $"{fast:0.0} s fast, {slow:0.0} s slow");
        Assert.Equal(fast, await SecondsAsync(bench), 0.5);
    });

    [Fact]
    public void What_is_no_feed_is_refused_and_nothing_is_sent() => SimulatedBench.Run(SimulatedBench.Good(), async bench =>
    {
        foreach (double feed in new[] { double.NaN, 0, -60, 9, 6001, double.PositiveInfinity })
        {
            await Assert.ThrowsAsync<ArgumentOutOfRangeException>(() => bench.Printer.LimitZFeedAsync(feed, default));
        }

        Assert.Equal(bench.Host.Scenario.Travel.MaxFeedZ * 60, (await bench.Printer.ReadHighestZFeedAsync(default))!.Value, 0.01);
    });

    [Fact]
    public void A_controller_that_reports_no_settings_has_no_known_limit() =>
        SimulatedBench.Run(SimulatedBench.Good(controller => controller with { ReportsSettings = false }), async bench =>
        {
            Assert.Null(await bench.Printer.ReadHighestZFeedAsync(default));
            await Assert.ThrowsAsync<ReportsDisagreeException>(() => bench.Printer.LimitZFeedAsync(60, default));
        });

    private static async Task<double> SecondsAsync(SimulatedBench bench)
    {
        long began = bench.Time.GetTimestamp();
        await bench.Printer.TouchAsync(Middle, default);
        return bench.Time.GetElapsedTime(began).TotalSeconds;
    }
}
