using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Events;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Scripts;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Procedures.Tests.Steps;

public sealed class GantryLevelTests
{
    private static readonly string[] Before = ["first-lift", "home-xy", "self-check", "first-home-z"];

    [Fact]
    public void A_sunken_gantry_comes_level_by_hand_and_the_machine_is_homed_again() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "sunken-gantry");

        RunOutcome outcome = await bench.RunAsync(TestBench.Steps([.. Before, "gantry-level", "home"]));

        Assert.True(outcome is RunOutcome.Completed, outcome.Why);
        GantryLevelConclusion level = bench.Conclusion<GantryLevelConclusion>();
        Assert.Equal(VerdictWord.Fit, level.Verdict.State);
        Assert.True(level.Seen.Length >= 2 && level.Seen[0] == "right-off");
        Assert.True(Math.Abs(bench.Host.Truth.GantryDifferenceMm) <= 0.08, $"{bench.Host.Truth.GantryDifferenceMm:0.000} mm");
        Assert.Empty(bench.Host.Truth.IllegalMoves);
        Assert.Empty(bench.Host.Truth.Scratches);
    });

    [Fact]
    public void A_machine_with_one_drive_is_asked_nothing_and_moves_nothing() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");

        RunOutcome outcome = await bench.RunAsync(TestBench.Steps([.. Before, "gantry-level"]));

        Assert.True(outcome is RunOutcome.Completed, outcome.Why);
        Assert.DoesNotContain(bench.Person.Asked, id => id.StartsWith("gantry-level", StringComparison.Ordinal));
    });

    [Fact]
    public void Calling_it_off_homes_the_machine_again_and_leaves_it_undecided() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "sunken-gantry");
        bench.Person.Instead = prompt => prompt.Id == PromptIds.GantryLevelEnds ? "call-off" : null;

        RunOutcome outcome = await bench.RunAsync(TestBench.Steps([.. Before, "gantry-level"]));

        Assert.True(outcome is RunOutcome.Completed, outcome.Why);
        Assert.Equal(VerdictWord.Undecided, bench.Conclusion<GantryLevelConclusion>().Verdict.State);
        Assert.True(bench.Host.Truth.Homed.Z);
    });

    [Fact]
    public void A_release_of_the_motors_after_the_levelling_is_warned_of() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "sunken-gantry");
        bench.Person.Pause = prompt => prompt.Id == PromptIds.HomeHandsClear ? TimeSpan.FromMinutes(11) : TimeSpan.FromSeconds(3);

        List<string> warnings = await WarningsAsync(bench, TestBench.Steps([.. Before, "gantry-level", "home", "do = \"grid\"\ncolumns = 3\nrows = 3"]));

        Assert.Contains(warnings, text => text.Contains("let go since the gantry was levelled", StringComparison.Ordinal));
    });

    [Fact]
    public void A_levelled_gantry_is_not_warned_of_while_the_motors_hold() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "sunken-gantry");

        List<string> warnings = await WarningsAsync(bench, TestBench.Steps([.. Before, "gantry-level", "do = \"grid\"\ncolumns = 3\nrows = 3"]));

        Assert.DoesNotContain(warnings, text => text.Contains("gantry", StringComparison.Ordinal));
    });

    [Fact]
    public void A_capture_without_a_levelled_gantry_is_doubted_on_two_drives_only()
    {
        RunScript script = TestBench.Steps("first-lift", "home", "grid");
        var twoDrives = TestBench.Profile with { Travel = TestBench.Profile.Travel with { ZDrives = 2 } };

        Assert.Empty(OrderCheck.Doubts(script, TestBench.Profile));
        Assert.Contains("gantry-level", Assert.Single(OrderCheck.Doubts(script, twoDrives)), StringComparison.Ordinal);
    }

    private static async Task<List<string>> WarningsAsync(SimulatedBench bench, RunScript script)
    {
        System.Threading.Channels.ChannelReader<RunEvent>? events = null;
        RunOutcome outcome = await bench.RunAsync(script, engine => events = engine.Listen());
        Assert.True(outcome is RunOutcome.Completed, outcome.Why);
        var warnings = new List<string>();
        while (events!.TryRead(out RunEvent? told))
        {
            if (told is Warned warned)
            {
                warnings.Add(warned.Text);
            }
        }

        return warnings;
    }
}
