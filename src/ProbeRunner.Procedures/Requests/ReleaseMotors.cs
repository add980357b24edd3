using ProbeRunner.Machine.Geometry;
using ProbeRunner.Procedures.Engine;

namespace ProbeRunner.Procedures.Requests;

/// <summary>Lets go of all motors, so that a person can move axes by hand.</summary>
public sealed record ReleaseMotors : Request<Done>
{
    internal override WorkKind Work => WorkKind.Motion;

    internal override bool IsPhysical => true;

    internal override async Task<Done> PerformAsync(Instruments with, CancellationToken cancel)
    {
        await with.Printer.ReleaseMotorsAsync(cancel);
        return default;
    }

    internal override MachineState After(MachineState before, Done reply) => before with { Homed = Axes.None };
}
