using ProbeRunner.Machine.Geometry;

namespace ProbeRunner.Procedures.Requests;

/// <summary>How far down the guard lets the nozzle go.</summary>
/// <param name="LowestMm">The lowest height allowed, nozzle Z, mm; a contact declared later may raise it.</param>
public readonly record struct StepDownRoom(double LowestMm);

/// <summary>Opens the guard's floor for a step-down at the nozzle's present place.</summary>
public sealed record OpenStepDown(double TriggerHeightMm, double TriggerToNozzleMm) : Request<StepDownRoom>
{
    internal override bool IsPhysical => true;

    internal override Axes NeedsHomed => Axes.All;

    internal override Task<StepDownRoom> PerformAsync(Instruments with, CancellationToken cancel) =>
        Task.FromResult(new StepDownRoom(with.Printer.BeginStepDown(TriggerHeightMm, TriggerToNozzleMm)));
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
