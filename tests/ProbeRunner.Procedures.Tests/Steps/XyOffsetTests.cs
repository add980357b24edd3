using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Steps.XyOffset;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Procedures.Tests.Steps;

public sealed class XyOffsetTests
{
    private static readonly string[] Steps = ["preflight", "first-lift", "home-xy", "self-check", "first-home-z"];

    [Theory]
    [InlineData("good", 1)]
    [InlineData("good", 2)]
    [InlineData("tilted", 3)]
    [InlineData("heron-good", 4)]
    public void A_mark_found_again_gives_the_offset_within_half_a_millimetre(string scenario, ulong seed) => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, scenario, seed);
        await WithWrongOffsetAsync(bench, 6, -4);

        RunOutcome outcome = await bench.RunAsync(TestBench.Steps([.. Steps, "probe-offset"]));

        Assert.True(outcome is RunOutcome.Completed, outcome.Why);
        XyOffsetConclusion offset = bench.Conclusion<XyOffsetConclusion>();
        Assert.Equal(VerdictWord.Fit, offset.Verdict.State);
        Assert.Equal(bench.Host.Scenario.Probe.OffsetX, offset.After.X, 0.5);
        Assert.Equal(bench.Host.Scenario.Probe.OffsetY, offset.After.Y, 0.5);
        Assert.Equal(offset.Before.Z, offset.After.Z);
        Assert.Empty(bench.Host.Truth.IllegalMoves);
        Assert.All(bench.Host.Truth.Scratches, scratch => Assert.True(scratch.DepthMm <= 0.10));
    });

    [Fact]
    public void A_mark_that_agrees_with_the_controller_keeps_what_it_has() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");

        await bench.RunAsync(TestBench.Steps([.. Steps, "probe-offset"]));

        XyOffsetConclusion offset = bench.Conclusion<XyOffsetConclusion>();
        Assert.Equal(("mark", offset.Before), (offset.Method, offset.After));
        Assert.Contains("kept", offset.Verdict.Reason, StringComparison.Ordinal);
        Assert.DoesNotContain(PromptIds.ProbeOffsetHomeHandsClear, bench.Person.Asked);
    });

    [Theory]
    [InlineData(60, 120, "probe-offset.homing-place-off-middle", VerdictWord.Fit)]
    [InlineData(120, 5, "probe-offset.homing-place-unreachable", VerdictWord.NotFit)]
    public void A_homing_place_off_the_middle_or_on_a_clip_is_named(double x, double y, string finding, VerdictWord expected) => VirtualTime.Run(async time =>
    {
        var home = new ProbeRunner.Machine.Geometry.BedPoint(x, y);
        await using SimulatedBench bench = await SimulatedBench.StartAsync(
            time, "good", profile: profile => profile with { Travel = profile.Travel with { HomingPlace = home } });
        bench.Person.Instead = prompt => prompt.Id == PromptIds.ProbeOffsetMethod ? "keep" : null;

        await bench.RunAsync(TestBench.Steps([.. Steps, "probe-offset"]));

        XyOffsetConclusion offset = bench.Conclusion<XyOffsetConclusion>();
        Assert.Contains(offset.Findings, found => found.Id == finding);
        Assert.Equal(expected, offset.Verdict.State);
    });

    [Fact]
    public void What_was_not_stored_is_put_back_at_the_end() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");
        await WithWrongOffsetAsync(bench, 6, -4);

        await bench.RunAsync(TestBench.Steps([.. Steps, "probe-offset"]));

        ProbeRunner.Machine.Settings.ProbeOffset left = await bench.Printer.ReadProbeOffsetAsync(CancellationToken.None);
        Assert.Equal(bench.Conclusion<XyOffsetConclusion>().Before, left);
    });

    [Fact]
    public void A_ruler_entry_asks_for_sides_and_makes_the_signs_itself() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");
        bench.Person.Instead = prompt => prompt.Id switch
        {
            PromptIds.ProbeOffsetMethod => "ruler",
            PromptIds.ProbeOffsetSideX => "left",
            PromptIds.ProbeOffsetDistanceX => "36.5",
            PromptIds.ProbeOffsetSideY => "back",
            PromptIds.ProbeOffsetDistanceY => "2",
            _ => null,
        };

        await bench.RunAsync(TestBench.Steps([.. Steps, "probe-offset"]));

        XyOffsetConclusion offset = bench.Conclusion<XyOffsetConclusion>();
        Assert.Equal((-36.5, 2.0), (offset.After.X, offset.After.Y));
        Assert.Contains(offset.Findings, finding => finding.Id == "probe-offset.profile-differs");
        Assert.Contains(offset.Findings, finding => finding.Id == "probe-offset.probe-cannot-reach");
    });

    [Fact]
    public void A_drawing_that_does_not_look_like_the_machine_writes_nothing() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");
        await WithWrongOffsetAsync(bench, 6, -4);
        bench.Person.Instead = prompt => prompt.Id == PromptIds.ProbeOffsetDrawing ? "wrong" : null;

        await bench.RunAsync(TestBench.Steps([.. Steps, "probe-offset"]));

        XyOffsetConclusion offset = bench.Conclusion<XyOffsetConclusion>();
        Assert.Equal(VerdictWord.NotFit, offset.Verdict.State);
        Assert.Equal(offset.Before, offset.After);
    });

    [Theory]
    [InlineData(-38, -9, true, true)]
    [InlineData(38, 9, false, false)]
    [InlineData(-38, 9, true, false)]
    [InlineData(38, -9, false, true)]
    public void The_drawing_shows_the_probe_on_its_side(double x, double y, bool left, bool front)
    {
        string[] lines = [.. OffsetDrawing.Lines(x, y)];

        Assert.Equal(left, lines[1].IndexOf('P', StringComparison.Ordinal) < lines[1].IndexOf('N', StringComparison.Ordinal));
        int probe = Array.FindLastIndex(lines, line => line.Contains('|') && line.Contains('P'));
        int nozzle = Array.FindLastIndex(lines, line => line.Contains('|') && line.Contains('N'));
        Assert.Equal(front, probe > nozzle);
        Assert.All(lines, line => Assert.True(line.Length <= 60));
    }

    /// <summary>The controller has an offset that is wrong by a few millimetres, as after a new bracket.</summary>
    private static async Task WithWrongOffsetAsync(SimulatedBench bench, double byX, double byY)
    {
        ProbeRunner.Machine.Settings.ProbeOffset right = await bench.Printer.ReadProbeOffsetAsync(CancellationToken.None);
        await bench.Printer.WriteProbeOffsetAsync(right with { X = right.X + byX, Y = right.Y + byY }, CancellationToken.None);
    }
}
