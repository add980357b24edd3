using System.Collections.Immutable;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Steps.MeshHandOver;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Procedures.Tests.Steps;

public sealed class MeshTests
{
    private const string Grid = "do = \"grid\"\ncolumns = 5\nrows = 5\ntouches = 1";
    private const string Mesh = "do = \"mesh\"\nhot_soak_minutes = 5";

    private static readonly string[] Homed = ["first-lift", "home"];

    [Fact]
    public void A_map_of_the_cold_bed_is_corrected_by_touches_on_the_hot_one() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "doming-bed");

        RunOutcome outcome = await bench.RunAsync(TestBench.Steps([.. Homed, Grid, Mesh]));

        Assert.True(outcome is RunOutcome.Completed, outcome.Why);
        MeshConclusion mesh = bench.Conclusion<MeshConclusion>();
        Assert.True(mesh.Verdict.State == VerdictWord.Fit, mesh.Verdict.Reason);
        Assert.Contains(mesh.Findings, finding => finding.Id == "mesh.hot-corrected");
        Assert.All(Enumerable.Range(0, 25), node =>
        {
            (double x, double y) = (20 + (node % 5 * 45), 20 + (node / 5 * 50));
            (double u, double v) = ((x / 120) - 1, (y / 120) - 1);
            double truth = (0.05 * u / 2) - (0.006 * 39 * ((u * u) + (v * v)) / 2); // the scenario's tilt, and its dome from 21 to 60 degC
            Assert.Equal(truth, mesh.Wanted.Heights[node], 0.03);
        });
        Assert.Equal((0.0, 0.0), bench.Host.Truth.HeaterTargets);
    });

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void A_cold_map_that_is_not_corrected_is_refused_and_nothing_is_written(bool asks) => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");
        bench.Person.Instead = prompt => prompt.Id == PromptIds.MeshHeat ? "refuse" : null;

        await bench.RunAsync(TestBench.Steps([.. Homed, Grid, asks ? Mesh : "do = \"mesh\"\nhot_grid = false"]));

        MeshConclusion mesh = bench.Conclusion<MeshConclusion>();
        Assert.Equal(VerdictWord.Undecided, mesh.Verdict.State);
        Assert.Contains(mesh.Findings, finding => finding.Id == "mesh.other-conditions");
        Assert.Equal(asks, bench.Person.Asked.Contains(PromptIds.MeshHeat));
        Assert.All(bench.Host.Truth.Mesh, node => Assert.Equal(0, node));
    });

    [Fact]
    public void A_cold_map_handed_over_on_purpose_leaves_the_verdict_open() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");

        await bench.RunAsync(TestBench.Steps([.. Homed, Grid, "do = \"mesh\"\nany_conditions = true"]));

        MeshConclusion mesh = bench.Conclusion<MeshConclusion>();
        Assert.Equal(VerdictWord.Undecided, mesh.Verdict.State);
        Assert.Contains(mesh.Findings, finding => finding.Id == "mesh.any-conditions");
        Assert.Empty(NodeComparison.Differences(mesh.Wanted, mesh.ReadBack!, 0.001));
    });

    [Fact]
    public void A_controller_that_keeps_its_nodes_to_itself_probes_them_and_is_judged_by_the_map() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "own-mesh");

        RunOutcome outcome = await bench.RunAsync(TestBench.Steps([.. Homed, Grid, Mesh]));

        Assert.True(outcome is RunOutcome.Completed, outcome.Why);
        MeshConclusion mesh = bench.Conclusion<MeshConclusion>();
        Assert.NotNull(mesh.ReadBack);
        Assert.True(mesh.ResidualWorstMm < 0.06, $"{mesh.ResidualWorstMm:0.000} mm");
        Assert.Contains(mesh.Findings, finding => finding.Id == "mesh.own-mesh-cold");
        Assert.DoesNotContain(PromptIds.MeshHeat, bench.Person.Asked);
        Assert.Empty(bench.Host.Truth.IllegalMoves);
    });

    [Fact]
    public void A_controller_that_forgets_gets_the_lines_to_paste_and_where() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "forgetful");

        RunOutcome outcome = await bench.RunAsync(TestBench.Steps([.. Homed, Grid, Mesh]));

        Assert.True(outcome is RunOutcome.Completed, outcome.Why);
        MeshConclusion mesh = bench.Conclusion<MeshConclusion>();
        Assert.Contains("after the line that homes", mesh.ByHand, StringComparison.Ordinal);
        Assert.All(bench.Printer.LinesThatSet(mesh.Wanted), line => Assert.Contains(line, mesh.ByHand, StringComparison.Ordinal));
        Assert.Equal(25, bench.Printer.LinesThatSet(mesh.Wanted).Length);
        Assert.Contains(bench.Printer.MeshStartCodeLine, mesh.StartCode, StringComparison.Ordinal);
    });

    [Fact]
    public void The_mesh_is_zero_at_home_goes_to_the_controller_s_own_nodes_and_is_left_as_found_when_nothing_stores_it() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "warped");

        await bench.RunAsync(TestBench.Steps([.. Homed, Grid, Mesh]));

        MeshConclusion mesh = bench.Conclusion<MeshConclusion>();
        Assert.Equal(mesh.Wanted, mesh.ReadBack! with { Heights = mesh.Wanted.Heights });
        Assert.All(bench.Host.Truth.Mesh, node => Assert.Equal(0, node));
        Assert.False(bench.Host.Truth.MeshCorrectionOn);
    });

    [Fact]
    public void A_lean_that_was_seen_is_taken_out_of_the_mesh() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "leaning-gantry");

        RunOutcome outcome = await bench.RunAsync(TestBench.Steps("first-lift", "home-xy", "self-check", "first-home-z", "lean", Grid, Mesh));

        Assert.True(outcome is RunOutcome.Completed, outcome.Why);
        MeshConclusion mesh = bench.Conclusion<MeshConclusion>();
        Assert.Contains(mesh.Findings, finding => finding.Id == "mesh.lean-taken-out");
        double rise = mesh.Wanted.Heights[14] - mesh.Wanted.Heights[10]; // middle row, x 20 to 200; the bed itself tilts by 0.05 over 240
        double bow = 0.04 * (Math.Pow((200 / 120.0) - 1, 2) - Math.Pow((20 / 120.0) - 1, 2));
        Assert.Equal((0.05 * 180 / 240) + bow, rise, 0.035);
    });

    [Fact]
    public void Each_node_that_reads_back_otherwise_is_named()
    {
        var wanted = new MeshNodes(new(20, 20, 200, 220), 2, 2, [0.1, 0.2, 0.3, 0.4]);

        ImmutableArray<string> differences = NodeComparison.Differences(wanted, wanted with { Heights = [0.1, 0.21, 0.3, -0.4] }, 0.001);

        Assert.Equal<string>(["column 2, row 1: +0.200 written, +0.210 read", "column 2, row 2: +0.400 written, -0.400 read"], differences);
        Assert.Empty(NodeComparison.Differences(wanted, wanted, 0.001));
        Assert.Single(NodeComparison.Differences(wanted, wanted with { Columns = 1, Rows = 4 }, 0.001));
    }
}
