using System.Threading.Channels;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Events;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Procedures.Scripts;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Procedures.Tests.Steps;

public sealed class HeatedCaptureTests
{
    private const int PlacesOffClips = 14; // of 16: two lie on clips of this machine

    private const string Warm = "columns = 4\nrows = 4\ntouches = 1\nreference_every = 0\nbed_celsius = 60\nsoak_minutes = 5";

    private static RunScript Grid(string more = "") => TestBench.Steps("do = \"first-lift\"\nconfirm = false", "home", $"do = \"grid\"\n{Warm}\n{more}");

    [Fact]
    public void A_capture_is_taken_on_a_hot_soaked_bed_homed_anew_says_so_and_leaves_the_heaters_off() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");

        RunOutcome outcome = await bench.RunAsync(Grid());

        Assert.True(outcome is RunOutcome.Completed { Verdict.State: VerdictWord.Fit }, outcome.Why);
        TakenUnder taken = bench.Conclusion<CaptureConclusion>().TakenUnder!;
        Assert.InRange(taken.BedCelsius, 57, 63);
        Assert.Equal(60, taken.BedTargetCelsius);
        Assert.InRange(taken.SoakMinutes, 5, 7); // asked for 5; homed again after them
        Assert.Null(taken.WhyUnlikePrinting(60));
        Assert.Equal(2, bench.Conclusion<CaptureConclusion>().Readings.Select(reading => reading.DatumEpoch).Distinct().Single());
        Assert.Equal((0, 0), bench.Host.Truth.HeaterTargets);
    });

    [Fact]
    public void A_capture_on_a_bed_that_an_earlier_step_had_soaked_carries_that_soak() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");

        await bench.RunAsync(TestBench.Steps(
            "first-lift", "home-xy", "self-check", "first-home-z", "series", "do = \"step-down\"\nsoak_minutes = 6\ntakes = 1", "do = \"grid\"\ncolumns = 4\nrows = 4\ntouches = 1"));

        CaptureConclusion capture = bench.Conclusion<CaptureConclusion>();
        Assert.True(capture.TakenUnder!.SoakMinutes > 6, $"{capture.TakenUnder}");
        Assert.Contains("soaked for", capture.Conditions, StringComparison.Ordinal);
    });

    [Fact]
    public void The_bed_s_heater_is_off_during_each_touch_and_on_again_after_it() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        var during = new List<double>();

        RunOutcome outcome = await bench.RunAsync(Grid("pause_bed_heater = true"), _ => bench.Printer.Before = (verb, _) =>
        {
            if (verb == "touch")
            {
                during.Add(bench.Printer.BedTarget);
            }

            return Task.CompletedTask;
        });

        Assert.True(outcome is RunOutcome.Completed, outcome.Why);
        Assert.Equal(PlacesOffClips, during.Count);
        Assert.All(during, target => Assert.Equal(0, target));
        Assert.Equal(PlacesOffClips, bench.Printer.Log.Zip(bench.Printer.Log.Skip(1)).Count(pair => pair is ("touch", "heat")));
        Assert.Equal(0, bench.Printer.BedTarget);
    });

    [Fact]
    public void A_warm_capture_that_was_cut_off_heats_and_soaks_again_before_it_goes_on() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");
        int touches = 0;
        await bench.RunAsync(Grid(), _ => bench.Journal.Appended = entry =>
        {
            touches += entry is { Kind: EntryKind.Fact } && entry.Request.Contains("\"touch\"", StringComparison.Ordinal) ? 1 : 0;
            if (touches == 6)
            {
                bench.Host.PullCable();
            }
        });
        bench.Journal.Appended = null;
        await bench.ComeBackAsync();
        await Task.Delay(TimeSpan.FromHours(1), time); // cold again
        ChannelReader<RunEvent>? told = null;

        RunOutcome outcome = await bench.RunAsync(Grid(), engine => told = engine.Listen());

        Assert.True(outcome is RunOutcome.Completed { Verdict.State: VerdictWord.Fit }, outcome.Why);
        List<string> said = await told!.ReadAllAsync().OfType<Remarked>().Select(remark => remark.Text).ToListAsync();
        Assert.Contains("The bed had cooled and soaks again for 5 minutes.", said); // as long as the step wants it, not the machine's usual soak
        Assert.Equal(PlacesOffClips, bench.Conclusion<CaptureConclusion>().Readings.Length);
        Assert.Equal((0, 0), bench.Host.Truth.HeaterTargets);
    });

    [Fact]
    public void Above_the_machine_s_caps_it_is_refused_before_anything_is_sent() => VirtualTime.Run(time =>
    {
        var bench = new TestBench(time);

        var refused = Assert.Throws<ScriptRefusedException>(() => bench.Engine(TestBench.Steps("do = \"first-lift\"\nconfirm = false", "home", "do = \"grid\"\nbed_celsius = 149")));

        Assert.Contains("caps", refused.Message, StringComparison.Ordinal);
        Assert.Empty(bench.Printer.Log);
        return Task.CompletedTask;
    });
}
