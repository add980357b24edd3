using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Events;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.Procedures.Watches;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Procedures.Tests.Watches;

/// <summary>Runs that heat, and what keeps them in check.</summary>
public sealed class HeatWatchTests
{
    private const string Trial = "do = \"silence-trial\"\nsilence_seconds = 60";

    [Fact]
    public void Heating_with_nobody_there_is_refused_with_every_reason_before_anything_is_sent() => VirtualTime.Run(time =>
    {
        var bench = new TestBench(time) { Person = { IsPresent = false } };

        var refused = Assert.Throws<ScriptRefusedException>(() => bench.Engine(TestBench.Steps(Trial)));

        Assert.Contains("heaters stay off", refused.Message, StringComparison.Ordinal);
        Assert.Empty(bench.Printer.Log);
        return Task.CompletedTask;
    });

    [Fact]
    public void A_controller_that_goes_on_heating_in_the_silence_is_not_fit_and_its_heaters_are_off_afterwards() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);

        RunOutcome outcome = await bench.RunAsync(TestBench.Steps(Trial));

        Assert.True(outcome is RunOutcome.Completed, outcome.Why);
        Assert.Equal(VerdictWord.NotFit, outcome.Verdict.State);
        Assert.False(bench.Conclusion<SilenceTrialConclusion>().SwitchedOff);
        Assert.Equal((0, 0), (bench.Printer.NozzleTarget, bench.Printer.BedTarget));
    });

    [Fact]
    public void A_controller_that_switches_off_in_the_silence_is_fit_and_nothing_was_said_to_it_meanwhile() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        int saidBefore = 0;
        _ = SwitchOffAsync();
        RunOutcome outcome = await bench.RunAsync(TestBench.Steps(Trial));

        Assert.Equal(VerdictWord.Fit, outcome.Verdict.State);
        Assert.True(bench.Conclusion<SilenceTrialConclusion>().SwitchedOff);

        async Task SwitchOffAsync()
        {
            await Task.Delay(TimeSpan.FromSeconds(30), time);
            saidBefore = bench.Printer.Log.Count;
            bench.Printer.ControllerSwitchesHeatersOff();
            await Task.Delay(TimeSpan.FromSeconds(25), time);
            Assert.Equal(saidBefore, bench.Printer.Log.Count);
        }
    });

    [Fact]
    public void A_stop_hands_heaters_off_over_at_once_without_waiting_for_the_motion_in_hand() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        RunEngine engine = bench.Engine(TestBench.Steps(Trial));
        Task<RunOutcome> running = engine.RunAsync();
        await Task.Delay(TimeSpan.FromSeconds(20), time);
        Assert.True(bench.Printer.MayBeHeating);

        engine.Control.Stop();

        Assert.False(bench.Printer.MayBeHeating);
        Assert.Equal("HEATERS OFF", bench.Printer.Log[^1]);
        Assert.IsType<RunOutcome.Stopped>(await running);
    });

    [Fact]
    public void A_heater_that_rises_unasked_stops_a_run_that_does_not_heat_with_nobody_there() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time) { Person = { IsPresent = false } };
        DateTimeOffset began = time.GetUtcNow();
        bench.Printer.NozzleCelsius = () => 21 + (0.4 * (time.GetUtcNow() - began).TotalSeconds);

        RunOutcome outcome = await bench.RunAsync(TestBench.Steps("do = \"first-lift\"\nconfirm = false", "home", "do = \"grid\"\ncolumns = 12\nrows = 12"));

        Assert.IsType<RunOutcome.Faulted>(outcome);
        Assert.Contains("nozzle rose", outcome.Why, StringComparison.Ordinal);
        Assert.InRange(bench.Printer.Touches, 1, 60);
    });

    [Fact]
    public void A_watch_that_says_stop_makes_the_run_fail_and_its_warning_is_told_once() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        var watch = new Scripted();
        var engine = new RunEngine(bench.Printer, bench.Person, bench.Journal, TestBench.Steps(Trial), time, new RunOptions("0.1") { Watches = [watch] });
        var events = engine.Listen();

        RunOutcome outcome = await engine.RunAsync();

        var fault = Assert.IsType<RunOutcome.Faulted>(outcome);
        Assert.Equal("The cellar is under water.", fault.Why);
        Assert.Empty(fault.Alarm);
        int told = 0;
        while (events.TryRead(out RunEvent? happened))
        {
            told += happened is Warned { Text: "Drops." } ? 1 : 0;
        }

        Assert.Equal(1, told);
    });

    [Fact]
    public void Heaters_on_for_longer_than_allowed_stop_the_run() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        await bench.Printer.SetHeaterTargetsAsync(30, 30, default);
        var watch = new HeatWatch(bench.Printer, new WorkInHand(time), time, TimeSpan.FromMinutes(10), TimeSpan.Zero);
        Assert.Null(watch.Look().Stop);
        for (int minute = 1; minute <= 10; minute++)
        {
            await Task.Delay(TimeSpan.FromSeconds(60), time);
            watch.Take(await bench.Printer.ReadTemperaturesAsync(default));
        }

        Assert.Contains("10 minutes", watch.Look().Stop, StringComparison.Ordinal);
    });

    [Theory]
    [InlineData(30, true)] // pauses for a touch
    [InlineData(150, false)] // a rest
    public void Short_pauses_count_as_heating_and_long_rests_do_not(int offSeconds, bool stops) => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        var watch = new HeatWatch(bench.Printer, new WorkInHand(time), time, TimeSpan.FromMinutes(10), TimeSpan.Zero);
        string? stopped = null;
        for (int second = 0; second < 15 * 60; second++)
        {
            bool isOn = second % (2 * offSeconds) < offSeconds;
            await bench.Printer.SetHeaterTargetsAsync(isOn ? 30 : 0, 0, default);
            await Task.Delay(TimeSpan.FromSeconds(0.95), time);
            watch.Take(await bench.Printer.ReadTemperaturesAsync(default));
            stopped ??= watch.Look().Stop;
        }

        Assert.Equal(stops, stopped is not null);
    });

    [Theory]
    [InlineData(1)] // the watch's own question
    [InlineData(2)] // the step's
    public void A_stop_that_switches_the_heaters_off_under_a_step_is_a_stop_and_the_run_can_be_resumed(int look) => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        int looks = 0;

        RunOutcome stopped = await bench.RunAsync(TestBench.Steps(Trial), engine => bench.Printer.Before = (verb, _) =>
        {
            if (verb == "temperatures" && bench.Printer.NozzleTarget > 0 && ++looks == look)
            {
                engine.Control.Stop(); // heaters go off at once; the step reads that they are, and must not judge the controller by it
            }

            return Task.CompletedTask;
        });
        bench.Printer.Before = null;

        Assert.True(stopped is RunOutcome.Stopped, stopped.Why);
        RunOutcome resumed = await bench.RunAsync(TestBench.Steps(Trial));
        Assert.True(resumed is RunOutcome.Completed, resumed.Why);
    });

    [Fact]
    public void A_report_older_than_five_seconds_stops_the_run_while_a_heater_is_on() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        var watch = new HeatWatch(bench.Printer, new WorkInHand(time), time, null, TimeSpan.Zero);
        await Task.Delay(TimeSpan.FromMinutes(1), time);
        Assert.Null(watch.Look().Stop);
        await bench.Printer.SetHeaterTargetsAsync(140, null, default);
        watch.Take(await bench.Printer.ReadTemperaturesAsync(default));
        await Task.Delay(TimeSpan.FromSeconds(4), time);
        Assert.Null(watch.Look().Stop);
        await Task.Delay(TimeSpan.FromSeconds(2), time);
        Assert.Contains("no temperature", watch.Look().Stop, StringComparison.Ordinal);
    });

    private sealed class Scripted : IRunWatch
    {
        private int _looks;

        public Sight Look() => ++_looks < 20 ? new Sight(null, "Drops.") : Sight.MustStop("The cellar is under water.");
    }
}
