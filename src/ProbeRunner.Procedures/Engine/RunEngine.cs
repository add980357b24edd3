using System.Threading.Channels;
using ProbeRunner.Machine.Printers;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Events;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;
using ProbeRunner.Procedures.Scripts;
using ProbeRunner.Procedures.Watches;

namespace ProbeRunner.Procedures.Engine;

/// <summary>
/// Runs a script on a machine, from its start or, when the journal holds rows already, from the first fact that is missing.
/// One engine is one session: it runs once.
/// </summary>
public sealed class RunEngine
{
    private readonly IPrinter _printer;
    private readonly IOperator _person;
    private readonly IJournal _journal;
    private readonly RunScript _script;
    private readonly TimeProvider _time;
    private readonly RunOptions _options;
    private readonly Replay _replay;
    private readonly RunClock _clock;
    private readonly EventStreams _events;
    private readonly Recorder _recorder;
    private readonly WorkInHand _work;
    private readonly HeatWatch? _heat;
    private readonly WatchLoop _watching;
    private bool _begun;

    /// <summary>Prepares a session; nothing is sent.</summary>
    /// <param name="printer">The machine, connected.</param>
    /// <param name="person">The person at it.</param>
    /// <param name="journal">The run's journal; with rows in it the run is taken up again.</param>
    /// <param name="script">What to do; on a resume the script that the journal's header holds.</param>
    /// <param name="time">The clock.</param>
    /// <param name="options">How.</param>
    /// <exception cref="JournalDamagedException">A row is not what was written.</exception>
    /// <exception cref="ScriptRefusedException">The order depends on what is not done, a step can't be done on this machine, or a person is needed and absent.</exception>
    /// <exception cref="ResumeRefusedException">The run is complete already.</exception>
    public RunEngine(IPrinter printer, IOperator person, IJournal journal, RunScript script, TimeProvider time, RunOptions options)
    {
        ArgumentNullException.ThrowIfNull(printer);
        ArgumentNullException.ThrowIfNull(person);
        ArgumentNullException.ThrowIfNull(journal);
        ArgumentNullException.ThrowIfNull(script);
        ArgumentNullException.ThrowIfNull(time);
        ArgumentNullException.ThrowIfNull(options);
        OrderCheck.Check(script, printer.Profile, person.IsPresent, options.UnattendedHeat);
        (_printer, _person, _journal, _script, _time, _options) = (printer, person, journal, script, time, options);
        _replay = new Replay(journal.ReadAll());
        if (_replay.LastOutcome is RunOutcome.Completed)
        {
            throw new ResumeRefusedException($"Run {journal.Header.RunId} is complete; there is nothing left to do. Start a new run.");
        }

        _clock = new RunClock(time, journal.Header.StartedAt, _replay.LastAt);
        _events = new EventStreams(_clock);
        _recorder = new Recorder(journal, _clock, _replay.LastOrdinal);
        Control = new RunControl(printer.Halt, () => printer.InterjectHeatersOff());
        _work = new WorkInHand(time);
        _heat = !person.IsPresent || Heats
            ? new HeatWatch(printer, _work, time, person.IsPresent ? null : options.UnattendedHeat.Limit, options.ShortestWait)
            : null;
        _watching = new WatchLoop(_heat is null ? options.Watches : [_heat, .. options.Watches], Control, _events, time, options.ShortestWait);
    }

    /// <summary>What making an engine checks too, for whoever wants to know it before a record is begun.</summary>
    /// <param name="script">The script.</param>
    /// <param name="profile">The machine.</param>
    /// <param name="isPersonPresent">Whether somebody is at it.</param>
    /// <param name="heat">Whether it may heat with nobody there.</param>
    /// <exception cref="ScriptRefusedException">The script can't be run so; the message names every reason.</exception>
    public static void Check(RunScript script, MachineProfile profile, bool isPersonPresent, UnattendedHeat heat) =>
        OrderCheck.Check(script, profile, isPersonPresent, heat);

    /// <summary>Hold, stop and halt, from any thread.</summary>
    public RunControl Control { get; }

    /// <summary>A queue of the run's events for one listener; open it before <see cref="RunAsync"/>. It ends after <see cref="RunEnded"/>.</summary>
    public ChannelReader<RunEvent> Listen() => _events.Open();

    /// <summary>Runs to the end, in whichever way; the machine is safe afterwards or the outcome's alarm says what to do.</summary>
    /// <exception cref="ResumeRefusedException">It is another machine, or the record goes another way; nothing has moved.</exception>
    public async Task<RunOutcome> RunAsync()
    {
        if (_begun)
        {
            throw new InvalidOperationException("An engine runs once; make a new one to resume.");
        }

        _begun = true;
        var restorer = new Restorer(Instruments(), _recorder, Control, _replay.State, _replay.IsResume);
        var steps = new StepSequence(_script, _printer, _replay, _recorder, _events, _journal.Header);
        using var ended = new CancellationTokenSource();
        _heat?.Begin();
        Task watching = _watching.RunAsync(ended.Token);
        try
        {
            RunOutcome outcome = await StepsAsync(steps, restorer);
            _watching.Leaving();
            outcome = await LeaveAsync(outcome, restorer);
            Record(outcome);
            _events.Tell(at => new RunEnded(at, outcome));
            return outcome;
        }
        finally
        {
            Control.End();
            ended.Cancel(); // not CancelAsync: its callbacks would leave the thread of a virtual clock
            await watching;
            _heat?.End();
            _events.Complete();
        }
    }

    private bool Heats => _script.Steps.Any(step => step.Heats);

    private Instruments Instruments() => new(_printer, _person, _clock, _events, Control.Nudges, _replay.State.DatumEpoch);

    private async Task<RunOutcome> StepsAsync(StepSequence steps, Restorer restorer)
    {
        try
        {
            var session = new SessionPayload(_time.GetUtcNow(), _options.ProgramVersion, _replay.IsResume, _options.Simulated)
            {
                CorrectionFoundOn = _printer.Now.MeshCorrectionOn,
                SoftLimitsFoundOn = _printer.Now.SoftLimitsOn,
            };
            _recorder.Note(EntryKind.SessionStarted, -1, session);
            restorer.Follow(state => state.MetBy(session).MetWith(_journal.Header));
            _events.Tell(at => new RunStarted(at, _journal.Header.RunId, _journal.Header.MachineName, _journal.Header.ScriptName, _replay.IsResume));
            if (_printer.Now.IdleReleaseToldTo is { } told)
            {
                _events.Tell(at => new Warned(at, string.Empty, FormattableString.Invariant($"The controller doesn't say after how long it lets its motors go. It was told {told.TotalMinutes:0} minutes, and keeps that until it is switched off.")));
            }

            foreach (string doubt in OrderCheck.Doubts(_script, _printer.Profile))
            {
                _events.Tell(at => new Warned(at, string.Empty, doubt));
            }

            if (Heats && !_person.IsPresent)
            {
                _events.Tell(at => new Warned(at, string.Empty, UnattendedHeat.Caution));
            }

            if (_replay.IsResume)
            {
                await new Reunion(_printer, _journal.Header, _replay).MeetAsync();
            }

            var progress = new ProgressMeter([.. _script.Steps.Select(step => step.Plan(_printer.Profile))]);
            var poll = new HeatPoll(_printer, _heat, Control, _time, evenCold: !_person.IsPresent);
            var hold = new HoldRoutine(Instruments(), _recorder, Control, _time, _options.NozzleHoldLimit, poll);
            var bench = new Workbench(Instruments(), _replay, _recorder, Control, restorer, hold, progress, poll, _work);
            await steps.RunAsync(bench, progress);
            return new RunOutcome.Completed(steps.Summary, steps.Verdict);
        }
        catch (ResumeRefusedException)
        {
            throw;
        }
        catch (Exception failure)
        {
            return Outcomes.Of(failure, steps.Verdict);
        }
    }

    private async Task<RunOutcome> LeaveAsync(RunOutcome outcome, Restorer restorer)
    {
        Control.Nudges.Close();
        var retreat = new Retreat(_printer, Control, _time, _options.ShortestWait);
        if (outcome is not RunOutcome.Halted)
        {
            RetreatReport report = await retreat.RunAsync(restorer.State);
            if (Control.Phase != RunPhase.Halted)
            {
                return Outcomes.After(outcome, report);
            }
        }

        return Outcomes.Halted(outcome.Verdict, await retreat.LookAfterHaltAsync());
    }

    private void Record(RunOutcome outcome)
    {
        if (_recorder.HasFailed)
        {
            return;
        }

        try
        {
            if (outcome is not RunOutcome.Completed)
            {
                _recorder.Note(EntryKind.Interrupted, -1, new InterruptedPayload(Outcomes.Word(outcome), outcome.Why));
            }

            _recorder.Note(EntryKind.RunEnded, -1, outcome);
        }
        catch (JournalFailedException failure)
        {
            _events.Tell(at => new Warned(at, string.Empty, failure.Message));
        }
    }
}
