using System.Collections.Immutable;
using System.Text.Json.Serialization;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Touches;

namespace ProbeRunner.Procedures.Requests;

/// <summary>Asks for the state of all end switches.</summary>
public sealed record ReadSwitches : Request<ImmutableSortedDictionary<string, ProbeState>>
{
    internal override Task<ImmutableSortedDictionary<string, ProbeState>> PerformAsync(Instruments with, CancellationToken cancel) =>
        with.Printer.ReadSwitchesAsync(cancel);
}

/// <summary>Asks for the state of the probe's switch.</summary>
public sealed record ReadProbe : Request<ProbeState>
{
    internal override Task<ProbeState> PerformAsync(Instruments with, CancellationToken cancel) => with.Printer.ReadProbeAsync(cancel);
}

/// <summary>Brings the probe into its working position.</summary>
public sealed record ExtendProbe : Request<Done>
{
    internal override WorkKind Work => WorkKind.Motion;

    internal override bool IsPhysical => true;

    internal override async Task<Done> PerformAsync(Instruments with, CancellationToken cancel)
    {
        await with.Printer.ExtendProbeAsync(cancel);
        return default;
    }
}

/// <summary>Takes the probe out of its working position.</summary>
public sealed record RetractProbe : Request<Done>
{
    internal override WorkKind Work => WorkKind.Motion;

    internal override bool IsPhysical => true;

    internal override async Task<Done> PerformAsync(Instruments with, CancellationToken cancel)
    {
        await with.Printer.RetractProbeAsync(cancel);
        return default;
    }
}

/// <summary>Clears a fault that the probe holds.</summary>
public sealed record ClearProbeFault : Request<Done>
{
    internal override bool IsPhysical => true;

    internal override async Task<Done> PerformAsync(Instruments with, CancellationToken cancel)
    {
        await with.Printer.ClearProbeFaultAsync(cancel);
        return default;
    }
}

/// <summary>One touch with the probe's tip at a bed point.</summary>
/// <param name="Place">Where.</param>
/// <param name="Repeat">The how many-th at this place, from 1.</param>
public sealed record TouchAt(BedPoint Place, int Repeat) : Request<Reading>
{
    /// <summary>The bed's target, degC, when its heater is off during the touch and put back to this after it; null when it stays as it is.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public double? PausedBedCelsius { get; init; }

    internal override WorkKind Work => WorkKind.Touch;

    internal override bool IsPhysical => true;

    internal override Axes NeedsHomed => Axes.All;

    internal override async Task<Reading> PerformAsync(Instruments with, CancellationToken cancel)
    {
        if (PausedBedCelsius is not { } bed)
        {
            return await TouchAsync(with, cancel);
        }

        await with.Printer.SetHeaterTargetsAsync(null, 0, cancel);
        Reading reading = await TouchAsync(with, cancel);
        await with.Printer.SetHeaterTargetsAsync(null, bed, cancel); // not after a failure: then off is where it belongs
        return reading;
    }

    private async Task<Reading> TouchAsync(Instruments with, CancellationToken cancel)
    {
        Reading reading = with.Person.IsPresent
            ? await with.Printer.TouchAsync(Place, cancel)
            : await ProbeRetries.TouchAsync(with, Place, cancel);
        return reading with { DatumEpoch = with.RunEpoch(reading.DatumEpoch) };
    }

    internal override Engine.MachineState After(Engine.MachineState before, Reading reply) => before with { DatumEpoch = reply.DatumEpoch };
}
