using ProbeRunner.Machine.Printers;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Events;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;
using ProbeRunner.Procedures.Steps;
using ProbeRunner.Procedures.Watches;

namespace ProbeRunner.Procedures.Engine;

/// <summary>The workbench of one session: replays, performs, makes durable, and gives way to hold, stop and halt between requests.</summary>
internal sealed class Workbench(
    Instruments instruments, Replay replay, Recorder recorder, RunControl control, Restorer restorer, HoldRoutine hold, ProgressMeter progress, HeatPoll heat, WorkInHand work)
    : IWorkbench
{
    private readonly Dictionary<(int Step, string Section), int> _retakes = [];
    private int _step = -1;
    private string _stepName = string.Empty;
    private bool _stepHeats;
    private Section? _section;
    private (long First, long Last)? _sectionFacts;
    private int _readings;
    private PrinterSnapshot? _seen;

    /// <summary>Whether recorded facts are still being served.</summary>
    public bool IsReplaying => !replay.IsExhausted;

    /// <summary>Which step's facts come next.</summary>
    public void BeginStep(int index, Step step)
    {
        (_step, _stepName, _stepHeats, _readings) = (index, step.Name, step.Heats, 0);
    }

    /// <summary>How often a section of the step in hand was begun before; part of what decides its unpredictable choices.</summary>
    public int RetakesOf(string section) => _retakes.GetValueOrDefault((_step, section)) + replay.RetakesOf(_step, section);

    /// <summary>How long a plan will take, by the times measured so far.</summary>
    public TimeSpan Expect(StepPlan plan) => progress.Expect(plan);

    /// <summary>The step in hand says how many touches it still expects: it judges as it goes, its plan was made before.</summary>
    public void StillToCome(int touches)
    {
        progress.StillToCome(WorkKind.Touch, touches);
        if (!IsReplaying)
        {
            TellProgress();
        }
    }

    /// <inheritdoc />
    public async Task<T> InSectionAsync<T>(Section section, Func<Task<T>> body)
    {
        ArgumentNullException.ThrowIfNull(section);
        ArgumentNullException.ThrowIfNull(body);
        if (_section is not null)
        {
            throw new InvalidOperationException($"Section {section.Name} begins inside section {_section.Name}; sections don't nest.");
        }

        try
        {
            while (true)
            {
                (_section, _sectionFacts) = (section, null);
                try
                {
                    return await body();
                }
                catch (RetakeSectionException retake)
                {
                    Void(section, retake.Message);
                }
            }
        }
        finally
        {
            _section = null;
        }
    }

    /// <inheritdoc />
    public async Task<TReply> DoAsync<TReply>(Request<TReply> request)
    {
        ArgumentNullException.ThrowIfNull(request);
        if (request.IsPhysical && _section is null)
        {
            throw new InvalidOperationException($"{request.GetType().Name} moves or changes the machine and must be asked for inside a section.");
        }

        if (request is SetHeaterTargets { SwitchesOn: true } && !_stepHeats)
        {
            throw new InvalidOperationException($"{_stepName} switches a heater on without having said so; its guardian was not started.");
        }

        string asked = JournalJson.Write<Request>(request);
        if (replay.Next(_step, _section?.Name ?? string.Empty, asked) is { } recorded)
        {
            Extend(recorded.Ordinal);
            TReply reply = JournalJson.Read<TReply>(recorded.Reply);
            if (request is TouchAt && reply is Reading touched)
            {
                _readings++;
                instruments.Events.Tell(at => new ReadingRecalled(at, _stepName, touched));
            }

            return reply;
        }

        restorer.FirstMissing ??= request;
        if (restorer.IsFirstLive && _section is { Retake: not Retake.Continue } && _sectionFacts is not null)
        {
            throw new RetakeSectionException("The run was interrupted in this section and taken up again.");
        }

        return await PerformAsync(request, asked);
    }

    /// <summary>Records a change of a setting, once.</summary>
    public void NoteChange(ChangedSetting change)
    {
        if (replay.HasChange(_step, JournalJson.Write(change)))
        {
            return;
        }

        recorder.Note(EntryKind.Changed, _step, change);
        instruments.Events.Tell(at => new SettingChanged(at, change.Setting, change.Before, change.After));
    }

    private async Task<TReply> PerformAsync<TReply>(Request<TReply> request, string asked)
    {
        while (true)
        {
            await GiveWayAsync();
            work.BeginRestoring();
            bool hasHomed = await restorer.RestoreForAsync(request, _step);
            work.End();
            if (hasHomed && _section is { Retake: not Retake.Continue } && _sectionFacts is not null)
            {
                throw new RetakeSectionException("The controller let go of its motors, and the machine was homed again.");
            }

            await heat.AskIfOldAsync();
            await GiveWayAsync();
            TimeSpan began = instruments.Clock.Elapsed;
            (bool done, TReply? reply) = await AttemptAsync(request);
            if (!done)
            {
                continue;
            }

            if (!request.IsPhysical)
            {
                control.ThrowIfEnding(); // a stop has switched the heaters off already: what is read now is its own doing, and no fact of the step
            }

            Extend(recorder.Fact(_step, _section?.Name ?? string.Empty, asked, JournalJson.Write(reply!)));
            restorer.Follow(state => request.After(state, reply!));
            Tell(request, reply!, instruments.Clock.Elapsed - began);
            return reply!;
        }
    }

    private async Task<(bool Done, TReply? Reply)> AttemptAsync<TReply>(Request<TReply> request)
    {
        using var cancel = new CancellationTokenSource();
        work.Begin(request);
        Task<TReply> performed = request.PerformAsync(instruments, cancel.Token);
        Task left = Task.WhenAny(performed, request.CanBeLeft ? control.Attention : control.Halted);
        await (request.MeetsMachine ? left : heat.AskWhileAsync(left));
        work.End();
        if (!performed.IsCompleted)
        {
            cancel.Cancel(); // not CancelAsync: its callbacks would leave the thread of a virtual clock
            if (control.Phase == RunPhase.Halted)
            {
                _ = performed.ContinueWith(abandoned => abandoned.Exception, TaskScheduler.Default);
                throw new HaltedException();
            }
        }

        try
        {
            return (true, await performed);
        }
        catch (OperationCanceledException) when (cancel.IsCancellationRequested)
        {
            return (false, default);
        }
        catch (OperatorGoneException) when (control.Phase is RunPhase.StopAsked or RunPhase.Halted)
        {
            return (false, default); // a closed terminal asks for a stop first: the run was stopped, it did not fail
        }
    }

    private async Task GiveWayAsync()
    {
        control.ThrowIfEnding();
        switch (control.Phase)
        {
            case RunPhase.HoldAsked when await hold.HoldAsync(_step, _stepName) && _section?.Retake == Retake.WhenInterrupted && _sectionFacts is not null:
                throw new RetakeSectionException("The run was held in this section.");
            case RunPhase.HoldAsked:
                await GiveWayAsync();
                break;
        }
    }

    private void Void(Section section, string why)
    {
        if (_sectionFacts is { } facts)
        {
            recorder.Voided(_step, section.Name, facts.First, facts.Last, why);
            _retakes[(_step, section.Name)] = _retakes.GetValueOrDefault((_step, section.Name)) + 1;
            restorer.WentLive();
        }
    }

    private void Extend(long ordinal) => _sectionFacts = (_sectionFacts?.First ?? ordinal, ordinal);

    private void Tell<TReply>(Request<TReply> request, TReply reply, TimeSpan took)
    {
        if (request.MeetsMachine && instruments.Printer.Now is var now && now != _seen)
        {
            _seen = now;
            instruments.Events.Tell(at => new MachineSeen(at, now));
        }

        if (request is TouchAt touch && reply is Reading reading)
        {
            int number = ++_readings;
            int? planned = _section?.Planned;
            instruments.Events.Tell(at => new ReadingTaken(at, _stepName, number, planned, touch.Repeat, reading));
        }

        progress.Did(request.Work, took);
        TellProgress();
    }

    private void TellProgress()
    {
        (double fraction, TimeSpan? left) = progress.Now;
        instruments.Events.Tell(at => new ProgressMoved(at, _stepName, fraction, left));
    }
}
