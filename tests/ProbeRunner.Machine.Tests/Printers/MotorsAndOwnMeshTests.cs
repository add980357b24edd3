using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Guard;
using ProbeRunner.Machine.Printers;
using ProbeRunner.Machine.Settings;

namespace ProbeRunner.Machine.Tests.Printers;

/// <summary>Motors let go on purpose, and a controller that probes its own mesh.</summary>
public sealed class MotorsAndOwnMeshTests
{
    [Fact]
    public void After_letting_go_of_the_motors_no_axis_counts_as_homed_and_only_the_bounded_lift_is_allowed() => SimulatedBench.Run(SimulatedBench.Good(), async bench =>
    {
        await HomeAsync(bench.Printer);
        int releases = bench.Printer.Now.MotorReleases;

        await bench.Printer.ReleaseMotorsAsync(default);

        Assert.Equal(Axes.None, bench.Printer.Now.Homed);
        Assert.Equal(releases + 1, bench.Printer.Now.MotorReleases);
        Assert.Equal((false, false, false), bench.Host.Truth.Homed);
        await Assert.ThrowsAsync<MotionRefusedException>(() => bench.Printer.MoveNozzleAsync(new BedPoint(120, 120), default));
        await HomeAsync(bench.Printer);
    });

    [Fact]
    public void A_controller_s_own_mesh_is_probed_read_and_left_off() => SimulatedBench.Run(SimulatedBench.Good(controller => controller with { WritesMesh = false }), async bench =>
    {
        await HomeAsync(bench.Printer);

        MeshNodes? own = await bench.Printer.ProbeOwnMeshAsync(default);

        Assert.Equal((5, 5), (own!.Columns, own.Rows));
        Assert.Contains(own.Heights, height => height != 0);
        Assert.False(bench.Printer.Now.MeshCorrectionOn);
        ControllerIdentity identity = await bench.Printer.IdentifyAsync(default);
        Assert.False(identity.Abilities.WriteMeshNodes);
        Assert.True(identity.Abilities.ProbeOwnMesh);
    });

    [Fact]
    public void An_own_mesh_is_refused_before_homing() => SimulatedBench.Run(SimulatedBench.Good(), async bench =>
        await Assert.ThrowsAsync<MotionRefusedException>(() => bench.Printer.ProbeOwnMeshAsync(default)));

    private static async Task HomeAsync(Printer printer)
    {
        await printer.LiftUnhomedAsync(5, default);
        await printer.HomeAsync(Axes.XY, default);
        await printer.HomeAsync(Axes.Z, default);
    }
}
