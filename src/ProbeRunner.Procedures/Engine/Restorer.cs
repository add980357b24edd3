using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Printers;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Procedures.Events;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Engine;

/// <summary>
/// After a resume, brings the machine back to what the recorded facts imply, as late as possible: live settings before the first request
/// that meets the machine, homing before the first that moves or changes something. Follows the state as the run goes on.
/// </summary>
internal sealed class Restorer(Instruments instruments, Recorder recorder, MachineState implied, bool resumed)
{
    private bool _live = !resumed;
    private bool _settingsBack = !resumed;

    /// <summary>What the facts imply now.</summary>
    public MachineState State { get; private set; } = implied;

    /// <summary>Whether no request of this session was performed yet, after a resume.</summary>
    public bool IsFirstLive => !_live;

    /// <summary>From now on nothing is being interrupted by the resume itself.</summary>
    public void WentLive() => _live = true;

    /// <summary>Takes a new fact into account.</summary>
    public void Follow(Func<MachineState, MachineState> change) => State = change(State);

    /// <summary>Brings back what a request needs.</summary>
    public async Task RestoreForAsync(Request request, int step)
    {
        _live = true;
        IPrinter printer = instruments.Printer;
        if (!_settingsBack && request.MeetsMachine)
        {
            await RestoreSettingsAsync(printer, step); // before anything is read: a step must not meet settings that it had changed
            _settingsBack = true;
        }

        if (!resumed || !request.IsPhysical)
        {
            return;
        }

        Axes missing = State.Homed & request.NeedsHomed & ~printer.Now.Homed;
        if (missing != Axes.None)
        {
            await instruments.AskHandsClearAsync(
                PromptIds.ResumeHandsClear, "The machine lifts, then homes again, because its datum was lost. Paper out, hands clear?", CancellationToken.None);
            await HomeAgainAsync(printer, missing, step);
        }
    }

    private async Task RestoreSettingsAsync(IPrinter printer, int step)
    {
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
