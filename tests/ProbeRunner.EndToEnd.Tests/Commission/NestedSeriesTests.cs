using ProbeRunner.EndToEnd.Tests.Harness;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.EndToEnd.Tests.Commission;

/// <summary>A nested series over the wire.</summary>
public sealed class NestedSeriesTests
{
    [Fact]
    public async Task A_nested_series_runs_over_the_wire_and_says_where_the_scatter_comes_from()
    {
        var (bench, printer) = Bench.StartHere(seed: 8);
        await using var _ = bench;
        await using var series = bench.Begin("series", "--set", "mode=nested", "--set", "groups=6");

        var exitCode = await series.ExitAsync();

        Assert.True(exitCode is 0 or 1, $"{series.Output}\n{series.Errors}");
        Assert.Equal(24, JsonEvents.Readings(series.Output).Count());
        Assert.Contains(JsonEvents.Named(series.Output, "finding"), told => told.GetProperty("id").GetString()!.StartsWith("series.scatter-from-", StringComparison.Ordinal));
        var (probe, parts) = (printer.Scenario.Probe, bench.Concluded<SeriesConclusion>(series).Parts!);
        (string Source, double Truth)[] sources = // a homing is a touch too
        [
            ("homing", Math.Sqrt((probe.HomingSdMm * probe.HomingSdMm) + (probe.ExtensionSdMm * probe.ExtensionSdMm) + (probe.TouchSdMm * probe.TouchSdMm))),
            ("extension", probe.ExtensionSdMm),
            ("touch", probe.TouchSdMm),
        ];
        Assert.All(sources, source => Assert.Contains(parts, part => part.Source == source.Source && source.Truth >= part.LowerMm && source.Truth <= part.UpperMm));
    }
}
