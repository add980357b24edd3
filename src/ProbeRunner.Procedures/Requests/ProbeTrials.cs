using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Printers;
using ProbeRunner.Machine.Touches;

namespace ProbeRunner.Procedures.Requests;

/// <summary>How a trial of the probe's own movement went.</summary>
/// <param name="Moved">Whether the controller raised no fault.</param>
/// <param name="Said">What it said of the fault, printable; empty when there was none.</param>
/// <param name="Seconds">How long it took.</param>
public sealed record ProbeMove(bool Moved, string Said, double Seconds);

/// <summary>Brings the probe out or in, where a fault is not the end of the run but what is looked for.</summary>
/// <param name="Out">Out; in otherwise.</param>
public sealed record TryProbe(bool Out) : Request<ProbeMove>
{
    internal override WorkKind Work => WorkKind.Motion;

    internal override bool IsPhysical => true;

    internal override async Task<ProbeMove> PerformAsync(Instruments with, CancellationToken cancel)
    {
        TimeSpan began = with.Clock.Elapsed;
        string said = string.Empty;
        try
        {
            await (Out ? with.Printer.ExtendProbeAsync(cancel) : with.Printer.RetractProbeAsync(cancel));
        }
        catch (ProbeFaultException fault)
        {
            said = fault.Line;
        }

        return new ProbeMove(said.Length == 0, said, Math.Round((with.Clock.Elapsed - began).TotalSeconds, 3));
    }
}

/// <summary>One touch whose report is not believed but looked at, with the position asked for afterwards.</summary>
/// <param name="Place">Where.</param>
public sealed record CheckTouch(BedPoint Place) : Request<TouchCheck>
{
    internal override WorkKind Work => WorkKind.Touch;

    internal override bool IsPhysical => true;

    internal override Axes NeedsHomed => Axes.All;

    internal override Task<TouchCheck> PerformAsync(Instruments with, CancellationToken cancel) => with.Printer.CheckTouchAsync(Place, cancel);
}
