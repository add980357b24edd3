using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Printers;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Procedures.Engine;

namespace ProbeRunner.Procedures.Requests;

/// <summary>The controller's mesh; null inside when it has none or can't say.</summary>
public sealed record MeshReply(MeshNodes? Mesh);

/// <summary>Reads the controller's mesh.</summary>
public sealed record ReadMesh : Request<MeshReply>
{
    internal override async Task<MeshReply> PerformAsync(Instruments with, CancellationToken cancel) =>
        new(await with.Printer.ReadMeshAsync(cancel));

    internal override MachineState After(MachineState before, MeshReply reply) => before with { MeshAsFound = before.MeshAsFound ?? reply };
}

/// <summary>Writes the controller's mesh node by node; the reply is what was read back.</summary>
public sealed record WriteMesh(MeshNodes Mesh) : Request<MeshNodes>
{
    internal override bool IsPhysical => true;

    internal override async Task<MeshNodes> PerformAsync(Instruments with, CancellationToken cancel)
    {
        try
        {
            return await with.Printer.WriteMeshAsync(Mesh, cancel);
        }
        catch (ReportsDisagreeException)
        {
            // The step compares node by node and names each; what came back is its fact.
            if (await with.Printer.ReadMeshAsync(cancel) is { } found)
            {
                return found;
            }

            throw;
        }
    }

    internal override MachineState After(MachineState before, MeshNodes reply) => before with { LiveMesh = Mesh };
}

/// <summary>Switches mesh correction; the reply is what was read back.</summary>
public sealed record SwitchMeshCorrection(bool On) : Request<bool>
{
    internal override bool IsPhysical => true;

    internal override Task<bool> PerformAsync(Instruments with, CancellationToken cancel) => with.Printer.SetMeshCorrectionAsync(On, cancel);
}

/// <summary>
/// Lets the controller probe a mesh of its own; the reply is what it then reports. Nodes that can't be written can't be put back either:
/// only taking the stored settings back undoes it.
/// </summary>
public sealed record ProbeOwnMesh : Request<MeshReply>
{
    internal override WorkKind Work => WorkKind.Homing;

    internal override bool IsPhysical => true;

    internal override Axes NeedsHomed => Axes.All;

    internal override async Task<MeshReply> PerformAsync(Instruments with, CancellationToken cancel) => new(await with.Printer.ProbeOwnMeshAsync(cancel));
}
