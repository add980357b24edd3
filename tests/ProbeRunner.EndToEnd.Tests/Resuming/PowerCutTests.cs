using ProbeRunner.EndToEnd.Tests.Guardian;
using ProbeRunner.EndToEnd.Tests.Harness;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Records.Store;

namespace ProbeRunner.EndToEnd.Tests.Resuming;

/// <summary>The power of computer and printer goes at once: program, guardian and printer die in one instant; real processes.</summary>
public sealed class PowerCutTests
{
    [Fact]
    public async Task A_warm_capture_goes_on_in_a_new_datum_epoch_with_each_place_once()
    {
        await using var bench = await Bench.StartAsync(speed: "40");
        await File.WriteAllTextAsync(bench.File("warm.toml"), WarmGrid.Script(6));
        await using var run = bench.Begin(bench.File("warm.toml"));
        var id = await Bench.RunIdAsync(run);
        await run.LineAsync(line => line.Contains("\"reading\"", StringComparison.Ordinal));
        await Heaters.SignalAsync("-KILL", run.Id, await Heaters.GuardianOfAsync(run.Id), bench.PrinterProcess);
        Assert.Equal(128 + 9, await run.ExitAsync());
        await bench.PlugInElsewhereAsync("good"); // cold, not homed, what was not stored forgotten

        await using var resumed = bench.ResumeWithoutPort(id);

        Assert.True(await resumed.ExitAsync() is 0 or 1, $"{resumed.Output}\n{resumed.Errors}");
        Assert.False(File.Exists(bench.Store + "-guardian.log"), "The guardian had no power either.");
        var record = RunStore.OpenExisting(bench.Store).Read(id);
        var readings = record.Steps.Single(step => step.Name == "grid").Readings;
        Assert.Equal(readings.Length, readings.Select(reading => reading.Reading.Place).Distinct().Count());
        Assert.All(JsonEvents.Readings(run.Output), told => Assert.Contains(readings, kept => (kept.Reading.Place.X, kept.Reading.Place.Y, kept.Reading.Z) == told));
        Assert.Equal(2, readings.Select(reading => reading.Reading.DatumEpoch).Distinct().Count());
        Assert.InRange(bench.TouchesDone.Count - readings.Length, 0, 1);
        Assert.Equal(2, record.Conclusion<CaptureConclusion>()!.Details!.Datums.Length);
    }
}
