using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Printers;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Scripts;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Procedures.Tests.Watches;

/// <summary>Touches that give no reading, with nobody there to see to the probe.</summary>
public sealed class ProbeRetryTests
{
    private static RunScript Grid => TestBench.Steps("do = \"first-lift\"\nconfirm = false", "home", "do = \"grid\"\ncolumns = 3\nrows = 3");

    [Fact]
    public void A_touch_that_fails_twice_is_taken_again_after_the_probe_was_moved_and_the_run_goes_on() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time) { Person = { IsPresent = false } };

        RunOutcome outcome = await bench.RunAsync(Grid, _ => FailFrom(bench, 5, times: 2));

        Assert.True(outcome is RunOutcome.Completed, outcome.Why);
        Assert.Equal(2, bench.Printer.Log.Count(verb => verb == "extend"));
    });

    [Fact]
    public void A_probe_that_goes_on_failing_stops_the_run_after_a_bounded_number_of_attempts() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time) { Person = { IsPresent = false } };

        RunOutcome outcome = await bench.RunAsync(Grid, _ => FailFrom(bench, 5, times: 1000));

        Assert.IsType<RunOutcome.Faulted>(outcome);
        Assert.Equal(2, bench.Printer.Log.Count(verb => verb == "extend"));
    });

    [Fact]
    public void With_a_person_there_the_first_failure_is_theirs_to_see() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);

        RunOutcome outcome = await bench.RunAsync(Grid, _ => FailFrom(bench, 5, times: 1));

        Assert.IsType<RunOutcome.Faulted>(outcome);
        Assert.DoesNotContain("extend", bench.Printer.Log);
    });

    private static void FailFrom(TestBench bench, int touch, int times) => bench.Printer.Before = (verb, call) =>
        verb == "touch" && call >= touch && call < touch + times
            ? throw new TouchFailedException(new BedPoint(1, 1), "probe did not trigger")
            : Task.CompletedTask;
}
