using ProbeRunner.Machine.Geometry;

namespace ProbeRunner.Procedures.Requests;

/// <summary>Opens the guard's floor for a step-down at the nozzle's present place.</summary>
public sealed record OpenStepDown(double TriggerHeightMm, double TriggerToNozzleMm) : Request<Done>
{
    internal override bool IsPhysical => true;

    internal override Axes NeedsHomed => Axes.All;

    internal override Task<Done> PerformAsync(Instruments with, CancellationToken cancel)
    {
        with.Printer.BeginStepDown(TriggerHeightMm, TriggerToNozzleMm);
        return Task.FromResult(default(Done));
    }
}

/// <summary>Tells the guard of a contact: nothing goes deeper than 0.10 mm below the highest one.</summary>
public sealed record DeclareContact(double HeightMm) : Request<Done>
{
    internal override bool IsPhysical => true;

    internal override Task<Done> PerformAsync(Instruments with, CancellationToken cancel)
    {
        with.Printer.DeclareContact(HeightMm);
        return Task.FromResult(default(Done));
    }
}

/// <summary>Closes the guard's step-down opening.</summary>
public sealed record CloseStepDown : Request<Done>
{
    internal override bool IsPhysical => true;

    internal override Task<Done> PerformAsync(Instruments with, CancellationToken cancel)
    {
        with.Printer.EndStepDown();
        return Task.FromResult(default(Done));
    }
}
