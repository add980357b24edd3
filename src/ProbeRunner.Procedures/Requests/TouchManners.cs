using ProbeRunner.Machine.Geometry;
using ProbeRunner.Procedures.Engine;

namespace ProbeRunner.Procedures.Requests;

/// <summary>How fast the controller lets Z go at most, mm/min; null where it does not say.</summary>
public readonly record struct HighestZFeed(double? FeedMmPerMin);

/// <summary>Asks how fast the controller lets Z go at most.</summary>
public sealed record ReadHighestZFeed : Request<HighestZFeed>
{
    internal override async Task<HighestZFeed> PerformAsync(Instruments with, CancellationToken cancel) =>
        new(await with.Printer.ReadHighestZFeedAsync(cancel));

    internal override MachineState After(MachineState before, HighestZFeed reply) => before with { ZFeedAsFound = before.ZFeedAsFound ?? reply.FeedMmPerMin };
}

/// <summary>Limits how fast Z goes, touches included; the reply is what was read back. The way out of the run puts it back as it was found.</summary>
public sealed record LimitZFeed(double FeedMmPerMin) : Request<double>
{
    internal override bool IsPhysical => true;

    internal override Task<double> PerformAsync(Instruments with, CancellationToken cancel) => with.Printer.LimitZFeedAsync(FeedMmPerMin, cancel);

    internal override MachineState After(MachineState before, double reply) =>
        before with { LiveZFeed = before.ZFeedAsFound == FeedMmPerMin ? null : FeedMmPerMin };
}

/// <summary>Lifts to clearance and by so much more, so that the next touch has a longer way down.</summary>
public sealed record LiftHigher(double ExtraMm) : Request<NozzlePosition>
{
    internal override WorkKind Work => WorkKind.Motion;

    internal override bool IsPhysical => true;

    internal override Axes NeedsHomed => Axes.All;

    internal override async Task<NozzlePosition> PerformAsync(Instruments with, CancellationToken cancel)
    {
        await with.Printer.LiftToClearanceAsync(cancel);
        NozzlePosition at = await with.Printer.ReadPositionAsync(cancel);
        return await with.Printer.MoveToHeightAsync(at.Z + ExtraMm, with.Printer.Profile.Travel.LiftFeedMmPerMin, cancel);
    }
}
