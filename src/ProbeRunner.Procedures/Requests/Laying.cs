using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;

namespace ProbeRunner.Procedures.Requests;

/// <summary>Begins a first layer; lifting to clearance ends it.</summary>
public sealed record BeginLaying(double LayerHeightMm) : Request<Done>
{
    internal override bool IsPhysical => true;

    internal override Axes NeedsHomed => Axes.All;

    internal override async Task<Done> PerformAsync(Instruments with, CancellationToken cancel)
    {
        await with.Printer.BeginLayingAsync(LayerHeightMm, cancel);
        return default;
    }
}

/// <summary>Comes straight down and lays lines at one height.</summary>
public sealed record LayLines(ImmutableArray<LaidLine> Lines, double HeightMm, double FeedMmPerMin) : Request<Done>
{
    internal override WorkKind Work => WorkKind.Motion;

    internal override bool IsPhysical => true;

    internal override Axes NeedsHomed => Axes.All;

    internal override async Task<Done> PerformAsync(Instruments with, CancellationToken cancel)
    {
        await with.Printer.LayAsync(Lines, HeightMm, FeedMmPerMin, cancel);
        return default;
    }
}

/// <summary>Sets heater targets, degC; null leaves one as it is.</summary>
public sealed record SetHeaterTargets(double? NozzleCelsius, double? BedCelsius) : Request<Done>
{
    internal override bool IsPhysical => true;

    internal override async Task<Done> PerformAsync(Instruments with, CancellationToken cancel)
    {
        await with.Printer.SetHeaterTargetsAsync(NozzleCelsius, BedCelsius, cancel);
        return default;
    }
}

/// <summary>Lets the machine stand still for a time.</summary>
public sealed record StandStill(TimeSpan Time) : Request<Done>
{
    internal override bool IsPhysical => true;

    internal override async Task<Done> PerformAsync(Instruments with, CancellationToken cancel)
    {
        await with.Printer.DwellAsync(Time, cancel);
        return default;
    }
}
