using ProbeRunner.Machine.Geometry;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;

namespace ProbeRunner.Procedures.Requests;

/// <summary>The one motion allowed on an unhomed axis: bounded and upward.</summary>
public sealed record LiftUnhomed(double LiftMm) : Request<Done>
{
    internal override WorkKind Work => WorkKind.Motion;

    internal override bool IsPhysical => true;

    internal override async Task<Done> PerformAsync(Instruments with, CancellationToken cancel)
    {
        await with.Printer.LiftUnhomedAsync(LiftMm, cancel);
        return default;
    }

    internal override MachineState After(MachineState before, Done reply) => before with { Lifted = true };
}

/// <summary>A homing that was done.</summary>
/// <param name="DatumEpoch">The datum epoch it began, or the one still in force.</param>
public readonly record struct Homing(int DatumEpoch);

/// <summary>
/// Homes axes, from clearance where the height is known. Where the controller let go of its motors while it stood idle, X and Y are homed
/// before Z, after the person has confirmed that hands are clear once more.
/// </summary>
/// <param name="Axes">Which.</param>
/// <param name="Alone">Whether nothing but these axes may move, because a person's hand is at the machine; the guard then refuses instead.</param>
public sealed record HomeAxes(Axes Axes, bool Alone = false) : Request<Homing>
{
    internal override WorkKind Work => WorkKind.Homing;

    internal override bool IsPhysical => true;

    internal override Axes NeedsHomed => Axes.HasFlag(Axes.Z) ? Axes.XY & ~Axes : Axes.None;

    internal override async Task<Homing> PerformAsync(Instruments with, CancellationToken cancel)
    {
        if (with.Printer.Now.Homed.HasFlag(Axes.Z))
        {
            await with.Printer.LiftToClearanceAsync(cancel); // a homing travels level
        }

        Axes released = NeedsHomed & ~with.Printer.Now.Homed;
        if (released != Axes.None && !Alone)
        {
            await with.AskHandsClearAsync(
                PromptIds.ResumeHandsClear,
                "The controller let go of its motors meanwhile. The machine lifts, homes X and Y again, then Z. Paper out, hands clear?",
                cancel);
            await with.Printer.LiftUnhomedAsync(with.Printer.Profile.Travel.FirstLiftMm, cancel);
            await with.Printer.HomeAsync(released, cancel);
        }

        await with.Printer.HomeAsync(Axes, cancel);
        return new Homing(with.RunEpoch(with.Printer.Now.DatumEpoch));
    }

    internal override MachineState After(MachineState before, Homing reply) =>
        before with { Homed = before.Homed | Axes, DatumEpoch = reply.DatumEpoch };
}

/// <summary>Makes axes count as unhomed again.</summary>
public sealed record ForgetHoming(Axes Axes) : Request<Done>
{
    internal override Task<Done> PerformAsync(Instruments with, CancellationToken cancel)
    {
        with.Printer.ForgetHoming(Axes);
        return Task.FromResult(default(Done));
    }

    internal override MachineState After(MachineState before, Done reply) => before with { Homed = before.Homed & ~Axes };
}

/// <summary>Moves the nozzle level, at clearance.</summary>
public sealed record MoveNozzle(BedPoint Place) : Request<Done>
{
    internal override WorkKind Work => WorkKind.Motion;

    internal override bool IsPhysical => true;

    internal override Axes NeedsHomed => Axes.All;

    internal override async Task<Done> PerformAsync(Instruments with, CancellationToken cancel)
    {
        await with.Printer.MoveNozzleAsync(Place, cancel);
        return default;
    }
}

/// <summary>Moves the nozzle to a height; the reply is where the controller says it is.</summary>
public sealed record MoveToHeight(double HeightMm, double FeedMmPerMin) : Request<NozzlePosition>
{
    internal override WorkKind Work => WorkKind.Motion;

    internal override bool IsPhysical => true;

    internal override Axes NeedsHomed => Axes.All;

    internal override Task<NozzlePosition> PerformAsync(Instruments with, CancellationToken cancel) =>
        with.Printer.MoveToHeightAsync(HeightMm, FeedMmPerMin, cancel);
}

/// <summary>Lifts straight up to clearance and retracts the probe.</summary>
public sealed record LiftToClearance : Request<Done>
{
    internal override WorkKind Work => WorkKind.Motion;

    internal override bool IsPhysical => true;

    internal override Axes NeedsHomed => Axes.All;

    internal override async Task<Done> PerformAsync(Instruments with, CancellationToken cancel)
    {
        with.Nudges.Close();
        await with.Printer.LiftToClearanceAsync(cancel);
        return default;
    }
}
