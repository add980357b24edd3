using ProbeRunner.Campaigns;
using ProbeRunner.Metrology.Ordinal;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Procedures.Tests.Steps;

public sealed class FirstLayerTests
{
    private static readonly string[] Script =
        ["preflight", "first-lift", "home-xy", "self-check", "first-home-z", "series", "do = \"step-down\"\ncold = true", "grid", "do = \"mesh\"\nany_conditions = true", "store", "verify", "first-layer"];

    [Theory]
    [InlineData("good")]
    [InlineData("warped")]
    public void Patches_laid_hot_give_a_correction_and_nothing_is_scratched(string scenario) => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, scenario);

        var wanted = new List<double>();
        bench.Person.Before = prompt =>
        {
            if (prompt.Id == PromptIds.FirstLayerPatch)
            {
                wanted.Add(TrueGap.WantedMm(bench.Host.Truth, bench.Printer.Profile, bench.Host.Scenario.Travel));
            }
        };

        RunOutcome outcome = await bench.RunAsync(TestBench.Steps(Script));

        Assert.True(outcome is RunOutcome.Completed, outcome.Why);
        FirstLayerConclusion layer = bench.Conclusion<FirstLayerConclusion>();
        Assert.True(layer.Patches.Length >= 12);
        Assert.True(Math.Abs(layer.CorrectionMm - wanted.Average()) <= 0.01, $"{layer.Verdict.Reason} Truth wanted {wanted.Average():0.000}.");
        Assert.True(layer.FoldedIn, layer.Verdict.Reason);
        Assert.InRange(wanted.Average(), layer.LowerMm, layer.UpperMm);
        Assert.Equal((0.0, 0.0), bench.Host.Truth.HeaterTargets);
        Assert.Empty(bench.Host.Truth.IllegalMoves);
        Assert.All(bench.Host.Truth.Scratches, scratch => Assert.True(scratch.DepthMm <= 0.10));
    });

    [Fact]
    public void Patches_printed_from_a_file_are_judged_without_the_program_heating_or_moving_anything() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");
        string[] script = [.. Script[..^1], "do = \"first-layer\"\nstream = false\nline_width_mm = 0.5"];
        (string asked, int patch, int moved) = (string.Empty, 0, 0);
        const double wanted = 0.03; // as if the proven offset were this much too high
        double[] gaps = [.. PatchDesign.Coarse(0.12, 0.28, 12)];
        bench.Person.Before = prompt =>
        {
            if (prompt.Id == PromptIds.FirstLayerPrinted)
            {
                (asked, moved) = (prompt.Text, bench.Host.Truth.Touches.Count);
            }
        };
        bench.Person.Instead = prompt => prompt.Id != PromptIds.FirstLayerPatch ? null : (gaps[patch++] + wanted) switch
        {
            > 0.28 => "gaps",
            < 0.12 => "ridges",
            _ => "good",
        };

        RunOutcome outcome = await bench.RunAsync(TestBench.Steps(script));

        Assert.True(outcome is RunOutcome.Completed, outcome.Why);
        FirstLayerConclusion layer = bench.Conclusion<FirstLayerConclusion>();
        Assert.Equal(12, layer.Patches.Length);
        Assert.InRange(-wanted, layer.LowerMm, layer.UpperMm);
        Assert.Contains("proberunner pattern --machine wren-240 --from run-1 --set line_width_mm=0.5 -o FILE", asked, StringComparison.Ordinal);
        Assert.Equal(moved, bench.Host.Truth.Touches.Count);
        Assert.DoesNotContain(PromptIds.FirstLayerReady, bench.Person.Asked);
    });

    [Fact]
    public void A_corner_that_no_touch_reached_contradicts_the_map_and_is_named()
    {
        const int Seeds = 8;
        MapCheck[][] contradicted = new MapCheck[Seeds][];
        Parallel.For(0, Seeds, seed => contradicted[seed] = VirtualTime.Run(async time =>
        {
            await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "far-corner", (ulong)seed + 1);
            await bench.RunAsync(TestBench.Steps(Script));
            FirstLayerConclusion layer = bench.Conclusion<FirstLayerConclusion>();
            MapCheck[] against = [.. layer.Checks!.Where(check => check.Says != MapCheck.Agrees)];
            Assert.Equal(against.Length > 0, layer.Findings.Any(finding => finding.Id == "first-layer.map-back-right"));
            return against;
        }));

        // Looks are a person's: a seed in a few leaves it open, and about half of them say it of the slope beside the corner only.
        MapCheck[] corner = [.. contradicted.SelectMany(checks => checks).Where(check => check.Place.X > 200 && check.Place.Y > 200)];
        string all = string.Join('\n', contradicted.Select(checks => string.Join("; ", checks.AsEnumerable())));
        Assert.True(contradicted.Count(checks => checks.Length > 0) >= Seeds * 3 / 4 && corner.Length >= 3, all);
        Assert.All(corner, check => Assert.Equal(MapCheck.Farther, check.Says));
    }

    [Fact]
    public void Without_a_mesh_nothing_is_heated_and_the_next_thing_to_do_is_said() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");

        await bench.RunAsync(TestBench.Steps("preflight", "first-lift", "home-xy", "self-check", "first-home-z", "series", "step-down", "store", "verify", "first-layer"));

        PlainConclusion conclusion = bench.Conclusion<PlainConclusion>();
        Assert.Equal(VerdictWord.Undecided, conclusion.Verdict.State);
        Assert.Contains("mesh", conclusion.Verdict.Reason, StringComparison.Ordinal);
        Assert.DoesNotContain(PromptIds.FirstLayerReady, bench.Person.Asked);
    });

    [Fact]
    public void A_correction_that_is_declined_leaves_the_offset_as_it_was() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");
        bench.Person.Instead = prompt => prompt.Id == PromptIds.FirstLayerFoldIn ? "no" : null;

        await bench.RunAsync(TestBench.Steps(Script));

        Assert.False(bench.Conclusion<FirstLayerConclusion>().FoldedIn);
        Assert.Equal(bench.Host.Truth.StoredOffsetZ, bench.Host.Truth.LiveOffsetZ);
    });
}
