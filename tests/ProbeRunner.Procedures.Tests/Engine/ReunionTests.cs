using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
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

    private static async Task StopInTheGridAsync(TestBench bench)
    {
        RunOutcome outcome = await bench.RunAsync(Grid, engine => bench.Printer.Before = (verb, call) =>
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
