using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Procedures.Tests.Engine;

/// <summary>A person takes so long over a question that the controller lets go of its motors.</summary>
public sealed class MotorReleaseTests
{
    private static readonly TimeSpan LongerThanIdleRelease = TimeSpan.FromMinutes(20);

    [Fact]
    public void Before_a_homing_of_Z_the_person_is_asked_again_and_the_other_axes_are_homed_first() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await DawdlingAt(time, PromptIds.VerifyHomeHandsClear);

        RunOutcome outcome = await bench.RunAsync(TestBench.Script("commission"));

        Assert.True(outcome is RunOutcome.Completed, outcome.Why);
        Assert.Equal(VerdictWord.Fit, outcome.Verdict.State);
        Assert.Contains(PromptIds.ResumeHandsClear, bench.Person.Asked);
        Assert.Empty(bench.Host.Truth.IllegalMoves);
    });

    [Fact]
    public void With_a_finger_at_the_probe_nothing_else_is_homed_and_the_run_stops_unfinished() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await DawdlingAt(time, PromptIds.SelfCheckPush);
        var before = bench.Host.Truth.TouchCount;

        RunOutcome outcome = await bench.RunAsync(TestBench.Script("commission"));

        Assert.True(outcome is RunOutcome.Faulted, outcome.Why);
        Assert.Equal(VerdictWord.Undecided, outcome.Verdict.State);
        Assert.DoesNotContain(PromptIds.ResumeHandsClear, bench.Person.Asked);
        Assert.Equal(before, bench.Host.Truth.TouchCount);
        Assert.Empty(bench.Host.Truth.IllegalMoves);
    });

    [Theory]
    [InlineData(PromptIds.StepDownPaper)]
    [InlineData(PromptIds.StepDownApproachHandsClear)]
    [InlineData(PromptIds.CaptureHandsClear)]
    [InlineData(PromptIds.VerifyGapOne)]
    public void Before_anything_else_the_machine_is_homed_again_with_hands_clear_and_what_needs_one_datum_is_taken_again(string promptId) => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await DawdlingAt(time, promptId);

        RunOutcome outcome = await bench.RunAsync(TestBench.Script("commission"));

        Assert.True(outcome is RunOutcome.Completed, outcome.Why);
        Assert.Equal(VerdictWord.Fit, outcome.Verdict.State);
        Assert.Contains(PromptIds.ResumeHandsClear, bench.Person.Asked);
        Assert.Contains(bench.Journal.Entries, entry => entry.Kind == EntryKind.Restored);
        Assert.Empty(bench.Host.Truth.IllegalMoves);
        Assert.All(bench.Host.Truth.Scratches, scratch => Assert.True(scratch.DepthMm <= 0.10));
    });

    /// <summary>A bench whose person takes long over one question, the first time it is asked.</summary>
    private static async Task<SimulatedBench> DawdlingAt(TimeProvider time, string promptId)
    {
        SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");
        bool dawdled = false;
        bench.Person.Pause = prompt =>
        {
            if (dawdled || prompt.Id != promptId)
            {
                return TimeSpan.FromSeconds(3);
            }

            dawdled = true;
            return LongerThanIdleRelease;
        };
        return bench;
    }
}
