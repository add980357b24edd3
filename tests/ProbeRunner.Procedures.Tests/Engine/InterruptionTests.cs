using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Scripts;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Procedures.Tests.Engine;

public sealed class InterruptionTests
{
    private static RunScript Grid => TestBench.Steps("do = \"first-lift\"\nconfirm = false", "home", "do = \"grid\"\ncolumns = 3\nrows = 3");

    [Fact]
    public void A_stop_finishes_the_motion_lifts_parks_and_can_be_resumed() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        RunOutcome outcome = await bench.RunAsync(Grid, engine => At(bench, "touch", 5, () => engine.Control.Stop()));

        Assert.IsType<RunOutcome.Stopped>(outcome);
        Assert.Equal(VerdictWord.Undecided, outcome.Verdict.State); // what was not done is not known to be fit
        Assert.Equal(5, bench.Printer.Touches);
        Assert.Equal(5, bench.CountingTouches().Count);
        Assert.Equal(["clear", "move", "heaters-off"], bench.Printer.Log.Where(verb => verb is "clear" or "move" or "heaters-off").TakeLast(3));
        bench.Printer.Before = null;
        Assert.IsType<RunOutcome.Completed>(await bench.RunAsync(Grid));
    });

    [Fact]
    public void A_terminal_that_closes_after_asking_for_a_stop_leaves_a_stopped_run_not_a_failed_one() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        RunOutcome outcome = await bench.RunAsync(Grid, engine => bench.Person.Before = _ =>
        {
            engine.Control.Stop("The terminal was closed.");
            throw new OperatorGoneException("Nobody can answer any more.");
        });

        Assert.StartsWith("The terminal was closed.", Assert.IsType<RunOutcome.Stopped>(outcome).Why, StringComparison.Ordinal);
    });

    [Fact]
    public void A_stop_latches_against_resume_and_hold() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        RunOutcome outcome = await bench.RunAsync(Grid, engine => At(bench, "touch", 3, () =>
        {
            engine.Control.Stop();
            Assert.False(engine.Control.Resume());
            _ = engine.Control.HoldAsync();
            Assert.Equal(RunPhase.StopAsked, engine.Control.Phase);
        }));

        Assert.IsType<RunOutcome.Stopped>(outcome);
        Assert.Equal(3, bench.Printer.Touches);
    });

    [Fact]
    public void A_halt_reaches_the_printer_at_once_and_nothing_but_its_temperatures_is_asked_afterwards() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        RunOutcome outcome = await bench.RunAsync(Grid, engine => At(bench, "touch", 4, () => Assert.True(engine.Control.Halt())));

        Assert.Contains("nothing confirms that the heaters are off", Assert.IsType<RunOutcome.Halted>(outcome).Why, StringComparison.Ordinal);
        Assert.Equal(1, bench.Printer.Halts);
        AssertOnlyLookedAfterHalt(bench);
    });

    [Theory]
    [InlineData(0, "both heaters are off")]
    [InlineData(140, "a heater is STILL ON: switch off at the mains now")]
    public void After_a_halt_the_person_hears_what_a_controller_that_still_answers_says_of_its_heaters(double target, string said) => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        bench.Printer.AnswersHalted = true;
        await bench.Printer.SetHeaterTargetsAsync(target, 0, default);

        RunOutcome outcome = await bench.RunAsync(Grid, engine => After(bench, time, "touch", 4, () => engine.Control.Halt()));

        Assert.Contains(said, Assert.IsType<RunOutcome.Halted>(outcome).Why, StringComparison.Ordinal);
        AssertOnlyLookedAfterHalt(bench);
    });

    [Fact]
    public void A_halt_during_the_retreat_ends_the_retreat() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        RunOutcome outcome = await bench.RunAsync(Grid, engine =>
        {
            bench.Printer.Before = async (verb, call) =>
            {
                if (verb == "touch" && call == 3)
                {
                    engine.Control.Stop();
                }

                if (verb == "quiesce")
                {
                    await Task.Yield();
                    engine.Control.Halt();
                }
            };
        });

        Assert.IsType<RunOutcome.Halted>(outcome);
        AssertOnlyLookedAfterHalt(bench);
    });

    [Fact]
    public void A_hold_lifts_and_waits_and_the_grid_goes_on_without_a_reading_twice() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        RunOutcome outcome = await bench.RunAsync(Grid, engine => At(bench, "touch", 6, () => _ = HoldForAsync(engine, time, TimeSpan.FromMinutes(3))));

        Assert.IsType<RunOutcome.Completed>(outcome);
        Assert.Equal(bench.CountingTouches().Count, bench.Printer.Touches);
        Assert.Single(bench.Person.Asked, PromptIds.HoldHandsClear);
        Assert.Equal(["hold", "resumed"], Interruptions(bench));
    });

    [Fact]
    public void A_step_down_held_midway_is_taken_again_from_its_start() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        bool held = false;
        RunOutcome outcome = await bench.RunAsync(TestBench.Script("commission"), engine => bench.Person.Before = prompt =>
        {
            if (prompt.Id == PromptIds.StepDownPaper && !held && bench.Person.Asked.Count(id => id == PromptIds.StepDownPaper) == 4)
            {
                held = true;
                _ = HoldForAsync(engine, time, TimeSpan.FromSeconds(30));
            }

            return Task.CompletedTask;
        });

        Assert.True(outcome is RunOutcome.Completed { Verdict.State: VerdictWord.Fit }, outcome.Why);
        JournalEntry voided = Assert.Single(bench.Journal.Entries, entry => entry.Kind == EntryKind.Voided);
        Assert.Equal("take 1", voided.Section);
        Assert.Equal(-IdealPrinter.TriggerToNozzleMm, bench.Printer.StoredOffset.Z, 0.012);
    });

    [Fact]
    public void The_nozzle_heater_goes_off_when_a_hold_lasts_and_comes_back_on_resume() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        await bench.Printer.SetHeaterTargetsAsync(140, null, default);
        double during = -1, after = -1;
        RunOutcome outcome = await bench.RunAsync(Grid, engine => At(bench, "touch", 6, () => _ = WatchAsync(engine)));
        Assert.True(outcome is RunOutcome.Completed, outcome.Why);

        Assert.Equal((0, 140), (during, after));

        async Task WatchAsync(RunEngine engine)
        {
            await engine.Control.HoldAsync();
            await Task.Delay(TimeSpan.FromMinutes(11), time);
            during = bench.Printer.NozzleTarget;
            engine.Control.Resume();
            await Task.Delay(TimeSpan.FromSeconds(10), time);
            after = bench.Printer.NozzleTarget;
        }
    });

    [Fact]
    public void A_hold_still_pending_at_the_end_changes_nothing() => VirtualTime.Run(async time =>
    {
        var whole = new TestBench(time);
        await whole.RunAsync(Grid);
        var bench = new TestBench(time);
        Task? held = null;
        RunOutcome outcome = await bench.RunAsync(Grid, engine => At(bench, "touch", whole.Printer.Touches, () => held = engine.Control.HoldAsync()));

        Assert.IsType<RunOutcome.Completed>(outcome);
        await held!;
    });

    [Fact]
    public void A_journal_that_fails_stops_the_run_safely_and_says_so() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        bench.Journal.FailsAtRow = 15;

        RunOutcome outcome = await bench.RunAsync(Grid);

        Assert.Contains("disk full", Assert.IsType<RunOutcome.Faulted>(outcome).Why, StringComparison.Ordinal);
        Assert.Equal(14, bench.Journal.Entries.Count);
        Assert.Equal("heaters-off", bench.Printer.Log[^1]);
        Assert.True(bench.Printer.Touches <= bench.CountingTouches().Count + 1);
    });

    [Fact]
    public void Heaters_that_do_not_go_off_raise_an_alarm() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        await bench.Printer.SetHeaterTargetsAsync(140, 60, default);
        bench.Printer.HeatersObey = false;

        RunOutcome outcome = await bench.RunAsync(Grid);

        Assert.Contains("mains", Assert.IsType<RunOutcome.Faulted>(outcome).Alarm, StringComparison.Ordinal);
    });

    [Fact]
    public void A_link_that_dies_raises_an_alarm_and_the_run_can_be_resumed() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        bool dead = false;
        bench.Printer.Before = (verb, call) =>
        {
            dead |= verb == "touch" && call == 7;
            return dead ? throw new IOException("the cable is out") : Task.CompletedTask;
        };

        RunOutcome outcome = await bench.RunAsync(Grid);

        Assert.NotEmpty(Assert.IsType<RunOutcome.Faulted>(outcome).Alarm);
        bench.Printer.Before = null;
        bench.Printer.PowerCut();
        Assert.IsType<RunOutcome.Completed>(await bench.RunAsync(Grid));
    });

    [Fact]
    public void What_was_written_and_not_stored_is_put_back_on_a_stop() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        double before = bench.Printer.Offset.Z;

        RunOutcome outcome = await bench.RunAsync(TestBench.Script("commission"), engine => bench.Person.Before = prompt =>
        {
            if (prompt.Id == PromptIds.CaptureHandsClear)
            {
                engine.Control.Stop();
            }

            return Task.CompletedTask;
        });

        Assert.IsType<RunOutcome.Stopped>(outcome);
        Assert.Equal(before, bench.Printer.Offset.Z);
        bench.Person.Before = null;
        Assert.IsType<RunOutcome.Completed>(await bench.RunAsync(TestBench.Script("commission")));
        Assert.Equal(-IdealPrinter.TriggerToNozzleMm, bench.Printer.StoredOffset.Z, 0.012);
    });

    [Fact]
    public void A_listener_that_never_reads_does_not_hold_a_run_up() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);

        Assert.IsType<RunOutcome.Completed>(await bench.RunAsync(Grid, engine => engine.Listen()));
    });

    private static void AssertOnlyLookedAfterHalt(TestBench bench) =>
        Assert.All(bench.Printer.Log.SkipWhile(verb => verb != "HALT").Skip(1), verb => Assert.Equal("temperatures", verb));

    private static List<string> Interruptions(TestBench bench) =>
        [.. bench.Journal.Entries.Where(entry => entry.Kind == EntryKind.Interrupted).Select(entry => JournalJson.Read<InterruptedPayload>(entry.Reply).What)];

    private static async Task HoldForAsync(RunEngine engine, TimeProvider time, TimeSpan wait)
    {
        await engine.Control.HoldAsync();
        await Task.Delay(wait, time);
        engine.Control.Resume();
    }

    private static void At(TestBench bench, string verb, int call, Action act) => bench.Printer.Before = (now, count) =>
    {
        if (now == verb && count == call)
        {
            act();
        }

        return Task.CompletedTask;
    };

    private static void After(TestBench bench, TimeProvider time, string verb, int call, Action act) => bench.Printer.Before = (now, count) =>
    {
        if (now == verb && count == call)
        {
            _ = LaterAsync();
        }

        return Task.CompletedTask;

        async Task LaterAsync()
        {
            await Task.Delay(TimeSpan.FromSeconds(1), time);
            act();
        }
    };
}
