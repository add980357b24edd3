using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Printers;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Procedures.Events;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Engine;

/// <summary>
/// Brings the machine back to what the run's facts imply, as late as possible. After a resume: live settings before the first request that
/// meets the machine, heat and homing before the first that moves or changes something. In any session: homing again after a pause so long
/// that the controller let go of its motors. Follows the state as the run goes on.
/// </summary>
internal sealed class Restorer(Instruments instruments, Recorder recorder, RunControl control, MachineState implied, bool resumed)
{
    /// <summary>A bed that was colder than this below its target has to soak again.</summary>
    private const double StillSoakedCelsius = 5;

    private readonly HeatRoutine _heat = new(instruments.Printer, control);
    private bool _live = !resumed;
    private bool _settingsBack = !resumed;
    private bool _heatBack = !resumed;
    private bool _homedBack = !resumed;

    /// <summary>What the facts imply now.</summary>
    public MachineState State { get; private set; } = implied;

    /// <summary>Whether no request of this session was performed yet, after a resume.</summary>
    public bool IsFirstLive => !_live;

    /// <summary>The first request that the record has no answer to: it may have been performed just before the run was cut off.</summary>
    public Request? FirstMissing { get; set; }

    /// <summary>From now on nothing is being interrupted by the resume itself.</summary>
    public void WentLive() => _live = true;

    /// <summary>Takes a new fact into account.</summary>
    public void Follow(Func<MachineState, MachineState> change) => State = change(State);

    /// <summary>Brings back what a request needs.</summary>
    /// <returns>Whether the datum was lost during this session, so that what the section in hand measured may rest on another one.</returns>
    public async Task<bool> RestoreForAsync(Request request, int step)
    {
        _live = true;
        IPrinter printer = instruments.Printer;
        if (!_settingsBack && request.MeetsMachine)
        {
            await RestoreSettingsAsync(printer, step); // before anything is read: a step must not meet settings that it had changed
            _settingsBack = true;
        }

        if (request is SetHeaterTargets)
        {
            _heatBack = true; // the section brings the heat itself
        }

        // A homing of Z sees to the other axes itself, or refuses where a hand is at the machine.
        if (!request.IsPhysical || (_homedBack && request is HomeAxes))
        {
            return false;
        }

        Axes missing = State.Homed & request.NeedsHomed & ~printer.Now.Homed;
        bool isCold = !_heatBack && (State.NozzleTargetCelsius > 0 || State.BedTargetCelsius > 0);
        bool lostMeanwhile = _homedBack && missing != Axes.None;
        _heatBack = true;
        _homedBack |= request.NeedsHomed != Axes.None;
        if (missing != Axes.None || isCold)
        {
            await RestoreBodyAsync(printer, missing, isCold, step);
        }

        return lostMeanwhile;
    }

    /// <summary>Heat first, since a bed bends; homing with a nozzle too cool to ooze; then the nozzle as hot as it was.</summary>
    private async Task RestoreBodyAsync(IPrinter printer, Axes missing, bool isCold, int step)
    {
        await instruments.AskHandsClearAsync(
            PromptIds.ResumeHandsClear,
            isCold
                ? "The machine heats again, lifts, then homes, because it was let go of meanwhile. Paper out, hands clear?"
                : "The machine lifts, then homes again, because its datum was lost. Paper out, hands clear?",
            CancellationToken.None);
        (double nozzle, double bed) = (State.NozzleTargetCelsius, State.BedTargetCelsius);
        double probing = Math.Min(nozzle, printer.Profile.Heat.ProbingNozzleCelsius);
        bool homesZ = missing.HasFlag(Axes.Z);
        if (isCold)
        {
            await HeatAgainAsync(printer, homesZ ? probing : nozzle, bed, step);
        }
        else if (homesZ && nozzle > probing)
        {
            await _heat.ReachAsync(probing, bed);
        }

        if (missing != Axes.None)
        {
            await HomeAgainAsync(printer, missing, step);
        }

        if (homesZ && nozzle > probing)
        {
            await printer.LiftToClearanceAsync(CancellationToken.None);
            await _heat.ReachAsync(nozzle, bed);
        }
    }

    private async Task HeatAgainAsync(IPrinter printer, double nozzle, double bed, int step)
    {
        bool wasCold = bed - (await printer.ReadTemperaturesAsync(CancellationToken.None)).BedCelsius > StillSoakedCelsius;
        await _heat.ReachAsync(nozzle, bed);
        Note(step, new SetHeaterTargets(nozzle, bed), "the heaters' targets");
        TimeSpan soak = State.SoakNeeded ?? printer.Profile.Heat.Soak;
        if (wasCold && soak > TimeSpan.Zero)
        {
            instruments.Events.Tell(at => new Remarked(at, string.Empty, FormattableString.Invariant($"The bed had cooled and soaks again for {soak.TotalMinutes:0.#} minutes.")));
            await _heat.StandAsync(soak);
        }
    }

    private async Task RestoreSettingsAsync(IPrinter printer, int step)
    {
        await RefuseAnotherOffsetAsync(printer);
        if (State.LiveOffset is { } offset && await printer.ReadProbeOffsetAsync(CancellationToken.None) != offset)
        {
            ProbeOffset back = await printer.WriteProbeOffsetAsync(offset, CancellationToken.None);
            Note(step, new WriteProbeOffset(back), "the probe offset that the run had written and not yet stored");
        }

        if (State.LiveZFeed is { } feed)
        {
            Note(step, new LimitZFeed(await printer.LimitZFeedAsync(feed, CancellationToken.None)), "the limit that the run had set on Z's feed");
        }

        if (State.LiveMesh is { } mesh)
        {
            await printer.WriteMeshAsync(mesh, CancellationToken.None);
            Note(step, new WriteMesh(mesh), "the correction mesh that the run had written and not yet stored");
        }

        if (State.OffsetVerified)
        {
            printer.DeclareOffsetVerified(true);
        }
    }

    /// <summary>What was proven with one probe offset does not hold with another. A write that was cut off before it was recorded is known by its request.</summary>
    private async Task RefuseAnotherOffsetAsync(IPrinter printer)
    {
        if (State.OffsetAsFound is not { } recorded)
        {
            return;
        }

        ProbeOffset now = await printer.ReadProbeOffsetAsync(CancellationToken.None);
        ProbeOffset?[] known = [recorded, State.LiveOffset, (FirstMissing as WriteProbeOffset)?.Offset];
        if (!known.Any(one => one is { } offset && MachineGeometry.IsSame(offset, now)))
        {
            throw new ResumeRefusedException(
                $"The probe offset was changed since the run was cut off: the run left it at {Words(recorded)}, now it is {Words(now)} mm. What the run measured and proved holds for its own. Nothing has moved. Put that back, or start a new run.");
        }
    }

    private static string Words(ProbeOffset offset) => FormattableString.Invariant($"{offset.X:0.00}, {offset.Y:0.00}, {offset.Z:0.000}");

    private async Task HomeAgainAsync(IPrinter printer, Axes missing, int step)
    {
        if (!printer.Now.Homed.HasFlag(Axes.Z))
        {
            var lift = new LiftUnhomed(printer.Profile.Travel.FirstLiftMm);
            await lift.PerformAsync(instruments, CancellationToken.None);
            Note(step, lift, "clear of the bed");
        }

        if ((missing & Axes.XY) != Axes.None)
        {
            await HomeAsync(new HomeAxes(Axes.XY), step, "X and Y homed");
        }

        if (missing.HasFlag(Axes.Z))
        {
            await HomeAsync(new HomeAxes(Axes.Z), step, "Z homed, a new datum epoch");
        }
    }

    private async Task HomeAsync(HomeAxes home, int step, string what)
    {
        Homing homing = await home.PerformAsync(instruments, CancellationToken.None);
        State = home.After(State, homing);
        Note(step, home, what);
    }

    private void Note(int step, Request request, string what)
    {
        recorder.Restored(step, request, what);
        instruments.Events.Tell(at => new Remarked(at, string.Empty, $"Restored: {what}."));
    }
}
