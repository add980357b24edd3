using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Guard;
using ProbeRunner.Machine.Printers;
using ProbeRunner.Procedures.Events;

namespace ProbeRunner.Procedures.Requests;

/// <summary>Begins a first layer, in which the person may nudge the nozzle; lifting to clearance ends it.</summary>
/// <param name="LayerHeightMm">The layer's set height.</param>
/// <param name="NudgeMm">How far one nudge goes, more than 0 and at most 0.02.</param>
/// <param name="NudgedMm">Nudges that the lines' heights have in them already, up positive.</param>
public sealed record BeginLaying(double LayerHeightMm, double NudgeMm, double NudgedMm) : Request<Done>
{
    internal override bool IsPhysical => true;

    internal override Axes NeedsHomed => Axes.All;

    internal override async Task<Done> PerformAsync(Instruments with, CancellationToken cancel)
    {
        await with.Printer.BeginLayingAsync(LayerHeightMm, cancel);
        with.Nudges.Open(NudgeMm, NudgedMm);
        return default;
    }
}

/// <summary>A row of lines that was laid.</summary>
/// <param name="NudgedMm">How far the nozzle was nudged just before it, up positive; 0 when it was not.</param>
public readonly record struct LaidRow(double NudgedMm);

/// <summary>
/// Comes straight down, unless the nozzle is down already, and lays a row of lines at one height. A nudge that the person asked for is
/// done first; the fact keeps it.
/// </summary>
public sealed record LayLines(ImmutableArray<LaidLine> Lines, double HeightMm, double FeedMmPerMin) : Request<LaidRow>
{
    internal override WorkKind Work => WorkKind.Motion;

    internal override bool IsPhysical => true;

    internal override Axes NeedsHomed => Axes.All;

    internal override async Task<LaidRow> PerformAsync(Instruments with, CancellationToken cancel)
    {
        double nudged = await NudgeAsync(with, with.Nudges.Take(), HeightMm, cancel);
        await with.Printer.LayAsync(Lines, HeightMm, FeedMmPerMin, cancel);
        return new LaidRow(nudged);
    }

    private static async Task<double> NudgeAsync(Instruments with, double by, double lineMm, CancellationToken cancel)
    {
        if (by == 0)
        {
            return 0;
        }

        try
        {
            await with.Printer.NudgeAsync(by, lineMm, cancel);
        }
        catch (Exception refused) when (refused is MotionRefusedException or NotAbleException)
        {
            with.Events.Tell(at => new Warned(at, string.Empty, $"The nozzle was not nudged. {refused.Message}"));
            return 0;
        }

        double total = with.Nudges.Did(by);
        with.Events.Tell(at => new Nudged(at, by, total));
        return by;
    }
}

/// <summary>Sets heater targets, degC; null leaves one as it is.</summary>
public sealed record SetHeaterTargets(double? NozzleCelsius, double? BedCelsius) : Request<Done>
{
    /// <summary>Whether a heater is switched on.</summary>
    internal bool SwitchesOn => NozzleCelsius > 0 || BedCelsius > 0;

    internal override bool IsPhysical => true;

    internal override async Task<Done> PerformAsync(Instruments with, CancellationToken cancel)
    {
        await with.Printer.SetHeaterTargetsAsync(NozzleCelsius, BedCelsius, cancel);
        return default;
    }

    internal override Engine.MachineState After(Engine.MachineState before, Done reply) => before with
    {
        NozzleTargetCelsius = NozzleCelsius ?? before.NozzleTargetCelsius,
        BedTargetCelsius = BedCelsius ?? before.BedTargetCelsius,
        SoakNeeded = BedCelsius is null || BedCelsius == before.BedTargetCelsius ? before.SoakNeeded : null,
    };
}

/// <summary>Lets the machine stand still for a time.</summary>
public sealed record StandStill(TimeSpan Time) : Request<Done>
{
    internal override bool IsPhysical => true;

    internal override TimeSpan LongestSilence => Time + TimeSpan.FromSeconds(30);

    internal override async Task<Done> PerformAsync(Instruments with, CancellationToken cancel)
    {
        await with.Printer.DwellAsync(Time, cancel);
        return default;
    }
}
