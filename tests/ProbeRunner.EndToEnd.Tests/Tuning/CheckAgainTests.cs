using ProbeRunner.EndToEnd.Tests.Harness;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.SimulatedPrinter.Physics;

namespace ProbeRunner.EndToEnd.Tests.Tuning;

/// <summary>A bed captured, and checked on another day, over the wire.</summary>
public sealed class CheckAgainTests
{
    private static readonly string[] CornerNames = ["front left corner", "front right corner", "back left corner", "back right corner"];

    [Fact]
    public async Task Check_again_takes_the_last_capture_from_the_store_and_finds_the_screw_that_was_turned()
    {
        var (bench, printer) = Bench.StartHere(speed: "300");
        await using var _ = bench;
        await using (var without = bench.Begin("check-again"))
        {
            Assert.Equal(2, await without.ExitAsync());
            Assert.Contains("no sound capture", without.Errors, StringComparison.Ordinal);
        }

        await using var capture = bench.Begin("grid", "--set", "columns=5", "--set", "rows=5", "--set", "touches=1");
        Assert.True(await capture.ExitAsync() == 0, capture.Errors);
        var captured = bench.Concluded<CaptureConclusion>(capture);
        Assert.True(MapErrorMm(captured, printer.Truth) <= 0.02);
        var then = Corners(printer.Truth, captured.Area);
        Assert.Equal("ok", await printer.AskAsync("turn screw back right 0.4"));
        double[] moved = [.. Corners(printer.Truth, captured.Area).Zip(then, (now, before) => now - before)];

        await using var check = bench.Begin("check-again", "--set", "columns=4", "--set", "rows=4");
        var exitCode = await check.ExitAsync();

        Assert.True(exitCode == 1, $"{check.Output}\n{check.Errors}");
        Assert.Contains(JsonEvents.Named(check.Output, "finding"), told => told.GetProperty("id").GetString() == "check-again.corner-moved");
        var changes = bench.Concluded<CheckAgainConclusion>(check).Changes;
        foreach (var (name, truth) in CornerNames.Zip(moved.Select(corner => corner - moved.Average())))
        {
            var found = changes.Single(change => change.Name == name);
            Assert.True(Math.Abs(truth - found.ChangeMm) <= 0.03, $"{found}, truly {truth:0.000}");
        }
    }

    [Fact]
    public async Task A_guided_capture_alone_maps_the_bed_to_what_it_promises()
    {
        var (bench, printer) = Bench.StartHere("warped", speed: "300");
        await using var _ = bench;
        await using var capture = bench.Begin("guided-capture");

        var exitCode = await capture.ExitAsync();

        Assert.True(exitCode is 0 or 1, $"{capture.Output}\n{capture.Errors}"); // the bed is bent, so its verdict may be against it
        var map = bench.Concluded<CaptureConclusion>(capture);
        Assert.True(map.Details!.Goal!.Met, map.Verdict.Reason);
        Assert.True(MapErrorMm(map, printer.Truth) <= map.Details.Goal.TargetRmsMm * 1.5, $"{MapErrorMm(map, printer.Truth):0.000} mm of {map.Details.Goal.TargetRmsMm:0.000}");
    }

    /// <summary>Root mean square of the map's error where it was captured, heights taken from the homing place, of a bed that is as cold as it was then.</summary>
    private static double MapErrorMm(CaptureConclusion capture, Truth truth)
    {
        var map = capture.Map;
        return Math.Sqrt(Enumerable.Range(0, map.Heights.Length).Select(index => (
            X: map.Area.MinX + ((map.Area.MaxX - map.Area.MinX) * (index % map.Columns) / (map.Columns - 1)),
            Y: map.Area.MinY + ((map.Area.MaxY - map.Area.MinY) * (index / map.Columns) / (map.Rows - 1)),
            Found: map.Heights[index]))
            .Where(at => capture.Area.Contains(new BedPoint(at.X, at.Y)))
            .Average(at => Math.Pow(at.Found - (truth.BedHeightAt(at.X, at.Y) - truth.BedHeightAt(120, 120)), 2)));
    }

    /// <summary>Where the captures end: what the probe reaches of the plate.</summary>
    private static double[] Corners(Truth truth, BedRectangle area) =>
        [truth.BedHeightAt(area.MinX, area.MinY), truth.BedHeightAt(area.MaxX, area.MinY), truth.BedHeightAt(area.MinX, area.MaxY), truth.BedHeightAt(area.MaxX, area.MaxY)];
}
