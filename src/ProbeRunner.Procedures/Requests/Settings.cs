using ProbeRunner.Machine.Settings;
using ProbeRunner.Procedures.Engine;

namespace ProbeRunner.Procedures.Requests;

/// <summary>Asks the controller what it is and what it can do.</summary>
public sealed record Identify : Request<ControllerIdentity>
{
    internal override Task<ControllerIdentity> PerformAsync(Instruments with, CancellationToken cancel) => with.Printer.IdentifyAsync(cancel);
}

/// <summary>Reads all settings.</summary>
public sealed record ReadSettings : Request<SettingsReport>
{
    internal override Task<SettingsReport> PerformAsync(Instruments with, CancellationToken cancel) => with.Printer.ReadSettingsAsync(cancel);
}

/// <summary>The travel that the controller allows; null inside when it does not say.</summary>
public sealed record TravelLimitsReply(TravelLimits? Limits);

/// <summary>Reads the travel that the controller itself allows.</summary>
public sealed record ReadTravelLimits : Request<TravelLimitsReply>
{
    internal override async Task<TravelLimitsReply> PerformAsync(Instruments with, CancellationToken cancel) =>
        new(await with.Printer.ReadTravelLimitsAsync(cancel));
}

/// <summary>Switch positions as they are known now; null where the controller has not said.</summary>
public sealed record MachineLook(bool? MeshCorrectionOn, bool? SoftLimitsOn);

/// <summary>Looks at what is known of the machine's switches.</summary>
public sealed record LookAtMachine : Request<MachineLook>
{
    internal override Task<MachineLook> PerformAsync(Instruments with, CancellationToken cancel) =>
        Task.FromResult(new MachineLook(with.Printer.Now.MeshCorrectionOn, with.Printer.Now.SoftLimitsOn));
}

/// <summary>Reads the stored probe offset.</summary>
public sealed record ReadProbeOffset : Request<ProbeOffset>
{
    internal override Task<ProbeOffset> PerformAsync(Instruments with, CancellationToken cancel) => with.Printer.ReadProbeOffsetAsync(cancel);

    internal override MachineState After(MachineState before, ProbeOffset reply) => before with { OffsetAsFound = before.OffsetAsFound ?? reply };
}

/// <summary>Sets the live probe offset; the reply is what was read back. Ends the datum epoch.</summary>
public sealed record WriteProbeOffset(ProbeOffset Offset) : Request<ProbeOffset>
{
    internal override bool IsPhysical => true;

    internal override Task<ProbeOffset> PerformAsync(Instruments with, CancellationToken cancel) =>
        with.Printer.WriteProbeOffsetAsync(Offset, cancel);

    internal override MachineState After(MachineState before, ProbeOffset reply) =>
        before.WithoutDatum() with { LiveOffset = reply, OffsetVerified = false };
}

/// <summary>Tells the guard whether the present offset was proven at the bed.</summary>
public sealed record DeclareOffsetVerified(bool Verified) : Request<Done>
{
    internal override Task<Done> PerformAsync(Instruments with, CancellationToken cancel)
    {
        with.Printer.DeclareOffsetVerified(Verified);
        return Task.FromResult(default(Done));
    }

    internal override MachineState After(MachineState before, Done reply) => before with { OffsetVerified = Verified };
}

/// <summary>Stores the live settings for good.</summary>
public sealed record StoreSettings : Request<Done>
{
    internal override bool IsPhysical => true;

    internal override async Task<Done> PerformAsync(Instruments with, CancellationToken cancel)
    {
        await with.Printer.StoreSettingsAsync(cancel);
        return default;
    }

    internal override MachineState After(MachineState before, Done reply) => before with
    {
        LiveOffset = null,
        LiveMesh = null,
        OffsetAsFound = before.LiveOffset ?? before.OffsetAsFound, // what is written later and not stored goes back to this
        MeshAsFound = before.LiveMesh is { } mesh ? new MeshReply(mesh) : before.MeshAsFound,
    };
}

/// <summary>Takes the stored settings back in place of the live ones, which proves what was stored.</summary>
public sealed record ReloadSettings : Request<Done>
{
    internal override bool IsPhysical => true;

    internal override async Task<Done> PerformAsync(Instruments with, CancellationToken cancel)
    {
        await with.Printer.ReloadSettingsAsync(cancel);
        return default;
    }

    internal override MachineState After(MachineState before, Done reply) => before.WithoutDatum() with { LiveOffset = null, LiveMesh = null };
}

/// <summary>Switches the controller's own travel limits; the reply is what was read back.</summary>
public sealed record SwitchSoftLimits(bool On) : Request<bool>
{
    internal override bool IsPhysical => true;

    internal override Task<bool> PerformAsync(Instruments with, CancellationToken cancel) => with.Printer.SetSoftLimitsAsync(On, cancel);

    internal override MachineState After(MachineState before, bool reply) => before with { SoftLimitsChanged = !reply };
}

/// <summary>Declares that live settings shall stay as they are when the run ends, for a controller that can't store them.</summary>
public sealed record KeepLiveSettings : Request<Done>
{
    internal override Task<Done> PerformAsync(Instruments with, CancellationToken cancel) => Task.FromResult(default(Done));

    internal override MachineState After(MachineState before, Done reply) => before with
    {
        LiveOffset = null,
        LiveMesh = null,
        OffsetAsFound = before.LiveOffset ?? before.OffsetAsFound,
    };
}

/// <summary>Declares that switches and limits shall stay as they are when the run ends, since putting them so was its purpose.</summary>
public sealed record KeepSwitches : Request<Done>
{
    internal override Task<Done> PerformAsync(Instruments with, CancellationToken cancel) => Task.FromResult(default(Done));

    internal override MachineState After(MachineState before, Done reply) =>
        before with { LiveZFeed = null, SoftLimitsChanged = false, KeepsSwitches = true };
}
