using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Heat;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Procedures.Engine;

namespace ProbeRunner.Procedures.Requests;

/// <summary>How a trial of the halt line went, as far as this side can know.</summary>
/// <param name="Taken">Whether the operating system took the line.</param>
/// <param name="WasMoving">Whether it went out while the nozzle was on its way.</param>
public readonly record struct HaltTried(bool Taken, bool WasMoving);

/// <summary>
/// Sends the halt line while the nozzle goes up. Afterwards no axis is homed and the controller waits for a reset; the run itself is not halted.
/// </summary>
/// <param name="ToMm">The height the nozzle is sent to.</param>
/// <param name="FeedMmPerMin">How fast.</param>
/// <param name="OnTheWay">How long after the move began the halt line goes out.</param>
public sealed record TryHalt(double ToMm, double FeedMmPerMin, TimeSpan OnTheWay) : Request<HaltTried>
{
    internal override WorkKind Work => WorkKind.Motion;

    internal override bool IsPhysical => true;

    internal override Axes NeedsHomed => Axes.All;

    internal override async Task<HaltTried> PerformAsync(Instruments with, CancellationToken cancel)
    {
        Task move = with.Printer.MoveToHeightAsync(ToMm, FeedMmPerMin, cancel);
        await Task.WhenAny(move, with.Clock.PassAsync(OnTheWay, cancel));
        bool wasMoving = !move.IsCompleted;
        bool taken = with.Printer.Halt();
        try
        {
            await move;
        }
        catch (IOException)
        {
            // Halted: that is what was asked for. A link that was lost instead is met by the next request.
        }

        return new HaltTried(taken, wasMoving);
    }

    internal override MachineState After(MachineState before, HaltTried reply) => before with { Homed = Axes.None };
}

/// <summary>What a controller says after a reset.</summary>
public sealed record MetAgain(ControllerIdentity Controller, Temperatures Heat);

/// <summary>Begins a new session with a controller that was reset: heaters off and read back, what it is asked again.</summary>
public sealed record MeetAgain : Request<MetAgain>
{
    internal override bool IsPhysical => true;

    internal override async Task<MetAgain> PerformAsync(Instruments with, CancellationToken cancel)
    {
        Temperatures heat = await with.Printer.HeatersOffAsync(cancel);
        return new MetAgain(await with.Printer.IdentifyAsync(cancel), heat);
    }
}
