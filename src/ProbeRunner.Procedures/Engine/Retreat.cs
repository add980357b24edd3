using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Printers;
using ProbeRunner.Machine.Reach;

namespace ProbeRunner.Procedures.Engine;

/// <summary>What could not be made safe.</summary>
/// <param name="HeatersConfirmedOff">Whether the controller itself said, last of all, that both heaters are off.</param>
/// <param name="Failures">What failed, in sentences; empty when all went well.</param>
internal sealed record RetreatReport(bool HeatersConfirmedOff, ImmutableArray<string> Failures);

/// <summary>
/// The way out of every run: heaters off at once, motion finished, lift, retract, park, switches as found, heaters read back.
/// Each action is tried whatever became of the others, each under a deadline; only a halt ends it early.
/// </summary>
/// <param name="printer">The machine.</param>
/// <param name="control">Tells of a halt.</param>
/// <param name="time">The clock of the deadlines.</param>
/// <param name="shortestWait">No deadline is shorter; zero for real machines.</param>
internal sealed class Retreat(IPrinter printer, RunControl control, TimeProvider time, TimeSpan shortestWait)
{
    private static readonly TimeSpan ExchangeLimit = TimeSpan.FromSeconds(15);
    private static readonly TimeSpan HaltLookLimit = TimeSpan.FromSeconds(8);
    private static readonly TimeSpan MotionLimit = TimeSpan.FromSeconds(90);

    private const double ParkInsetMm = 10;

    private readonly List<string> _failures = [];

    /// <summary>Makes the machine safe.</summary>
    /// <param name="state">What the run has changed.</param>
    public async Task<RetreatReport> RunAsync(MachineState state)
    {
        bool answered = await TryAsync("switch the heaters off", ExchangeLimit, printer.HeatersOffAsync);
        if (answered)
        {
            await TryAsync("finish the motion in hand", MotionLimit, printer.QuiesceAsync);
            await ParkAsync();
            await PutSettingsBackAsync(state);
            await PutSwitchesBackAsync(state);
        }

        bool off = false;
        await TryAsync("read back that the heaters are off", ExchangeLimit, async cancel => off = (await printer.HeatersOffAsync(cancel)).HeatersOff);
        return new RetreatReport(off, [.. _failures]);
    }

    /// <summary>After a halt nothing is asked of the machine but its temperatures, once: whether the controller still answers, and heats.</summary>
    /// <returns>What to tell the person.</returns>
    public async Task<string> LookAfterHaltAsync()
    {
        TimeSpan allowed = HaltLookLimit > shortestWait ? HaltLookLimit : shortestWait;
        using var deadline = new CancellationTokenSource(allowed, time);
        try
        {
            return (await printer.ReadTemperaturesAsync(deadline.Token)).HeatersOff
                ? "The controller still answers: both heaters are off, it says."
                : "The controller still answers, and a heater is STILL ON: switch off at the mains now.";
        }
        catch (Exception failure) when (failure is not OutOfMemoryException)
        {
            return "The controller does not answer any more, so nothing confirms that the heaters are off: switch off at the mains now.";
        }
    }

    private async Task ParkAsync()
    {
        if (!printer.Now.Homed.HasFlag(Axes.Z))
        {
            return; // where the nozzle is, is not known: standing still is the safe thing
        }

        bool lifted = await TryAsync("lift and retract the probe", MotionLimit, printer.LiftToClearanceAsync);
        if (lifted)
        {
            printer.EndStepDown();
        }

        if (lifted && printer.Now.Homed.HasFlag(Axes.XY))
        {
            if (ParkPlace() is { } park)
            {
                await TryAsync("park", MotionLimit, cancel => printer.MoveNozzleAsync(park, cancel));
            }
        }
    }

    /// <summary>A corner of the bed, at the back if there is one free of clips; null to stay.</summary>
    private BedPoint? ParkPlace()
    {
        ReachableArea reach = ReachableArea.ForNozzle(printer.Profile);
        BedRectangle inner = reach.Bounds.Inset(ParkInsetMm);
        BedPoint[] corners = [new(inner.MinX, inner.MaxY), new(inner.MaxX, inner.MaxY), new(inner.MinX, inner.MinY), new(inner.MaxX, inner.MinY)];
        return corners.Where(reach.CanTouch).Cast<BedPoint?>().FirstOrDefault();
    }

    /// <summary>What was written and never stored is put back as it was found; a resumed run writes it again.</summary>
    private async Task PutSettingsBackAsync(MachineState state)
    {
        if (state is { LiveZFeed: not null, ZFeedAsFound: { } feed })
        {
            await TryAsync("put the limit of Z's feed back as it was found", ExchangeLimit, cancel => printer.LimitZFeedAsync(feed, cancel));
        }

        if (state is { LiveMesh: not null, MeshAsFound.Mesh: { } mesh })
        {
            await TryAsync("put the correction mesh back as it was found", MotionLimit, cancel => printer.WriteMeshAsync(mesh, cancel));
        }

        if (state is { LiveOffset: not null, OffsetAsFound: { } offset })
        {
            await TryAsync("put the probe offset back as it was found", ExchangeLimit, cancel => printer.WriteProbeOffsetAsync(offset, cancel));
        }
    }

    private async Task PutSwitchesBackAsync(MachineState state)
    {
        if (state.KeepsSwitches)
        {
            return;
        }

        bool limits = state.SoftLimitsAsFound ?? true; // where the controller doesn't say, on is the safe state
        if (state.SoftLimitsChanged || (printer.Now.SoftLimitsOn is { } limited && limited != limits))
        {
            await TryAsync("put the controller's travel limits back as they were found", ExchangeLimit, cancel => printer.SetSoftLimitsAsync(limits, cancel));
        }

        // Found on, it is switched on whatever is believed of it now: a controller may switch it off at any homing without a word.
        if (state.CorrectionAsFound is { } found && (found || printer.Now.MeshCorrectionOn == true))
        {
            await TryAsync("put mesh correction back as it was found", ExchangeLimit, cancel => printer.SetMeshCorrectionAsync(found, cancel));
        }
    }

    private async Task<bool> TryAsync(string what, TimeSpan limit, Func<CancellationToken, Task> action)
    {
        if (control.Phase == RunPhase.Halted)
        {
            _failures.Add($"The halt ended the retreat before it could {what}.");
            return false;
        }

        TimeSpan allowed = limit > shortestWait ? limit : shortestWait;
        using var deadline = new CancellationTokenSource(allowed, time);
        try
        {
            Task work = action(deadline.Token);
            if (await Task.WhenAny(work, control.Halted) != work)
            {
                deadline.Cancel(); // not CancelAsync: its callbacks would leave the thread of a virtual clock
                _ = work.ContinueWith(left => left.Exception, TaskScheduler.Default);
                _failures.Add($"The halt came while the machine was about to {what}.");
                return false;
            }

            await work;
            return true;
        }
        catch (OperationCanceledException)
        {
            _failures.Add(FormattableString.Invariant($"Could not {what}: the controller did not answer within {allowed.TotalSeconds:0} s."));
            return false;
        }
        catch (Exception failure)
        {
            _failures.Add($"Could not {what}: {failure.Message}");
            return false;
        }
    }
}
