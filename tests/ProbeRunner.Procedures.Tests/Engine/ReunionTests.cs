using ProbeRunner.Machine.Settings;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Procedures.Scripts;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Procedures.Tests.Engine;

/// <summary>Meeting the machine again on a resume.</summary>
public sealed class ReunionTests
{
    private static RunScript Grid => TestBench.Steps("do = \"preflight\"\nquestions = false", "do = \"first-lift\"\nconfirm = false", "home", "do = \"grid\"\ncolumns = 6\nrows = 6");

    [Fact]
    public void A_machine_whose_geometry_was_changed_is_refused_before_anything_moves() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        await StopInTheGridAsync(bench);
        bench.Printer.StepsPerMmZ = "800.00 steps/mm";
        int touches = bench.Printer.Touches;

        var refused = await Assert.ThrowsAsync<ResumeRefusedException>(() => bench.RunAsync(Grid));

        Assert.Contains("steps per mm Z was 400.00 steps/mm, now 800.00 steps/mm", refused.Message, StringComparison.Ordinal);
        Assert.Equal(touches, bench.Printer.Touches);
    });

    [Fact]
    public void The_same_machine_goes_on_heaters_off_first() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        await StopInTheGridAsync(bench);
        int before = bench.Printer.Log.Count;

        Assert.IsType<RunOutcome.Completed>(await bench.RunAsync(Grid));

        Assert.Equal("heaters-off", bench.Printer.Log[before]);
    });

    /// <summary>A script that reads no settings of its own.</summary>
    private static RunScript GridAlone => TestBench.Steps("do = \"first-lift\"\nconfirm = false", "home", "do = \"grid\"\ncolumns = 6\nrows = 6");

    [Fact]
    public void A_run_that_read_no_settings_is_held_to_the_geometry_that_it_was_begun_with() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        bench.Journal.Header = bench.Journal.Header with { Geometry = JournalJson.Write(await MachineGeometry.ReadAsync(bench.Printer, CancellationToken.None)) };
        await StopInTheGridAsync(bench, GridAlone);
        bench.Printer.StepsPerMmZ = "800.00 steps/mm";
        int touches = bench.Printer.Touches;

        var refused = await Assert.ThrowsAsync<ResumeRefusedException>(() => bench.RunAsync(GridAlone));

        Assert.Contains("steps per mm Z was 400.00 steps/mm, now 800.00 steps/mm", refused.Message, StringComparison.Ordinal);
        Assert.Equal(touches, bench.Printer.Touches);
        bench.Printer.StepsPerMmZ = "400.00 steps/mm";
        Assert.IsType<RunOutcome.Completed>(await bench.RunAsync(GridAlone));
    });

    [Fact]
    public void Other_travel_limits_are_another_geometry() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        MachineGeometry here = await MachineGeometry.ReadAsync(bench.Printer, CancellationToken.None);
        bench.Journal.Header = bench.Journal.Header with { Geometry = JournalJson.Write(here with { Limits = here.Limits! with { HighestZ = here.Limits.HighestZ + 60 } }) };
        await StopInTheGridAsync(bench, GridAlone);

        var refused = await Assert.ThrowsAsync<ResumeRefusedException>(() => bench.RunAsync(GridAlone));

        Assert.Contains("the travel that the controller allows was", refused.Message, StringComparison.Ordinal);
    });

    [Fact]
    public void A_probe_offset_that_was_changed_meanwhile_is_refused_before_anything_moves() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        bench.Journal.Header = bench.Journal.Header with { Geometry = JournalJson.Write(await MachineGeometry.ReadAsync(bench.Printer, CancellationToken.None)) };
        await StopInTheGridAsync(bench, GridAlone);
        ProbeOffset found = bench.Printer.Offset;
        await bench.Printer.WriteProbeOffsetAsync(found with { X = found.X + 2 }, CancellationToken.None);
        int touches = bench.Printer.Touches, homings = bench.Printer.Log.Count(verb => verb.StartsWith("home", StringComparison.Ordinal));

        var refused = await Assert.ThrowsAsync<ResumeRefusedException>(() => bench.RunAsync(GridAlone));

        Assert.Contains("The probe offset was changed", refused.Message, StringComparison.Ordinal);
        Assert.Equal((touches, homings), (bench.Printer.Touches, bench.Printer.Log.Count(verb => verb.StartsWith("home", StringComparison.Ordinal))));
    });

    private static async Task StopInTheGridAsync(TestBench bench, RunScript? script = null)
    {
        RunOutcome outcome = await bench.RunAsync(script ?? Grid, engine => bench.Printer.Before = (verb, call) =>
        {
            if (verb == "touch" && call == 5)
            {
                engine.Control.Stop();
            }

            return Task.CompletedTask;
        });
        Assert.IsType<RunOutcome.Stopped>(outcome);
        bench.Printer.Before = null;
    }
}
