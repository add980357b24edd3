using ProbeRunner.SimulatedPrinter.Physics;
using ProbeRunner.SimulatedPrinter.Scenarios;

namespace ProbeRunner.SimulatedPrinter.Controller;

/// <summary>
/// The controller as a state machine without I/O, threads or clocks: bytes come in with the time they came at, lines go out
/// through a delegate, and <see cref="NextDue"/> says when it wants to be called again.
/// </summary>
internal sealed class SimulatedController
{
    private readonly Scenario _scenario;
    private readonly ControllerScenario _options;
    private readonly PrinterBody _body;
    private readonly ControllerState _state;
    private readonly MotionTimeline _timeline;
    private readonly HeaterPanel _heaters;
    private readonly Wording _wording;
    private readonly CommandTable _commands;
    private readonly LineNumbering _numbering;
    private readonly LineAssembler _assembler = new();
    private readonly Queue<string> _lines = new();
    private readonly Chatter _chatter;
    private readonly Action<string> _send;
    private TimeSpan _now;
    private TimeSpan _lastLineAt;
    private TimeSpan? _bootEnd;
    private bool _okIsHeld;

    /// <summary>Makes a controller that has been switched on some time ago.</summary>
    /// <param name="scenario">How it speaks and what it can do.</param>
    /// <param name="body">The machine that it moves.</param>
    /// <param name="send">Takes each line that it says, without line end.</param>
    public SimulatedController(Scenario scenario, PrinterBody body, Action<string> send)
    {
        _scenario = scenario;
        _options = scenario.Controller;
        _body = body;
        _send = send;
        _wording = new Wording(_options);
        _state = new ControllerState(scenario, body);
        _timeline = new MotionTimeline(body, _state);
        _heaters = new HeaterPanel(scenario.Heat, body.Expansion);
        _numbering = new LineNumbering(_options);
        _chatter = new Chatter(_options, _wording);
        _commands = new CommandTable(scenario, body, _state, _timeline, _heaters, _wording, Say, Halt);
    }

    /// <summary>What the controller believes, for tests and the person's eyes.</summary>
    public ControllerState State => _state;

    /// <summary>What moves.</summary>
    public MotionTimeline Timeline => _timeline;

    /// <summary>The heaters.</summary>
    public HeaterPanel Heaters => _heaters;

    /// <summary>Whether it was halted and waits for a reset.</summary>
    public bool IsHalted { get; private set; }

    /// <summary>Whether it has power.</summary>
    public bool IsPowered { get; private set; } = true;

    /// <summary>When it wants <see cref="Advance"/> to be called, if nothing comes before; null for never.</summary>
    public TimeSpan? NextDue
    {
        get
        {
            if (!IsPowered)
            {
                return null;
            }

            if (_bootEnd is { } boot)
            {
                return boot;
            }

            var due = _timeline.NextDue;
            return IsHalted ? due : Earlier(due, _chatter.NextDue(IsBusy, _state.ReportSeconds));
        }
    }

    private bool IsBusy => _timeline.IsInLongCommand || _okIsHeld;

    /// <summary>Takes bytes.</summary>
    public void Receive(ReadOnlySpan<byte> bytes, TimeSpan now)
    {
        Advance(now);
        foreach (var value in bytes)
        {
            if (_assembler.Take(value) is { } line && IsPowered && _bootEnd is null && !IsHalted)
            {
                Take(line);
            }
        }

        Advance(now);
    }

    /// <summary>Does what is due.</summary>
    public void Advance(TimeSpan now)
    {
        _now = now;
        if (_bootEnd is { } boot)
        {
            if (boot > now)
            {
                return;
            }

            FinishBoot();
        }

        SwitchOffInSilence();
        while (IsPowered && !IsHalted && (StepMotion() || TakeWaitingLine()))
        {
        }

        if (IsPowered && !IsHalted)
        {
            _chatter.Speak(now, IsBusy, _state.ReportSeconds, () => _heaters.Report(now), Say);
        }
    }

    /// <summary>Starts anew, as after power-on or a reset: what moved stops where it is, and after a while the boot banner comes.</summary>
    public void Reset(TimeSpan now)
    {
        _now = now;
        _timeline.Abort(now);
        _heaters.Off(now);
        _lines.Clear();
        _assembler.Clear();
        _numbering.Last = 0;
        _okIsHeld = false;
        (IsHalted, IsPowered) = (false, true);
        _body.ReleaseMotors();
        _body.Probe.Retract();
        _state.Restart();
        _bootEnd = now + TimeSpan.FromSeconds(_options.BootSeconds);
    }

    /// <summary>Takes the power away: silence, motors and heaters off.</summary>
    public void PowerOff(TimeSpan now)
    {
        Reset(now);
        (_bootEnd, IsPowered) = (null, false);
    }

    private void Take(string line)
    {
        if (_options.HaltSeenWhenBusy && line.AsSpan().Trim().Equals("M112", StringComparison.OrdinalIgnoreCase))
        {
            Halt();
            return;
        }

        _lines.Enqueue(line);
        Advance(_now);
    }

    private bool StepMotion()
    {
        var step = _timeline.Step(_now);
        if (step == TimelineStep.LongCommandEnded)
        {
            Acknowledge();
        }
        else if (_okIsHeld && _timeline.Waiting < _options.QueuedMoves)
        {
            _okIsHeld = false;
            Acknowledge();
        }

        return step != TimelineStep.Nothing;
    }

    private bool TakeWaitingLine()
    {
        if (IsBusy || !_lines.TryDequeue(out var line))
        {
            return false;
        }

        _lastLineAt = _now;
        NoticeIdleness();
        var judgement = _numbering.Judge(line, out var command);
        switch (judgement)
        {
            case LineJudgement.Taken:
                Execute(line, command);
                break;
            case LineJudgement.Unknown:
                Say(_wording.Unknown(line));
                Acknowledge();
                break;
            default:
                Say(Wording.Refused(judgement, _numbering.Last));
                Say(_wording.Resend(_numbering.Last + 1));
                Acknowledge();
                break;
        }

        return true;
    }

    private void Execute(string line, ReadOnlySpan<char> command)
    {
        if (command.IsEmpty)
        {
            Acknowledge();
            return;
        }

        switch (_commands.Execute(command, _now, _numbering))
        {
            case CommandResult.Done:
                Acknowledge();
                break;
            case CommandResult.Temperatures when _options.TemperaturesOnOk:
                Say($"{Ok()} {_heaters.Report(_now)}");
                break;
            case CommandResult.Temperatures:
                Say(_heaters.Report(_now));
                Acknowledge();
                break;
            case CommandResult.Queued when _timeline.Waiting >= _options.QueuedMoves:
                _okIsHeld = true;
                _chatter.BecomeBusy(_now);
                break;
            case CommandResult.Queued:
                StepMotion();
                Acknowledge();
                break;
            case CommandResult.Long:
                _chatter.BecomeBusy(_now);
                break;
            case CommandResult.Halted:
                break;
            default:
                Say(_wording.Unknown(_options.Checksums ? command.ToString() : line));
                Acknowledge();
                break;
        }
    }

    /// <summary>By itself, whether or not a line ever comes again: with nobody left to send one, nothing else would.</summary>
    private void SwitchOffInSilence()
    {
        var silence = _options.SilenceHeatersOffSeconds;
        if (silence > 0 && (_now - _lastLineAt).TotalSeconds > silence)
        {
            _heaters.Off(_lastLineAt + TimeSpan.FromSeconds(silence));
        }
    }

    private void NoticeIdleness()
    {
        var idle = _state.Live.IdleReleaseSeconds;
        if (idle > 0 && !_timeline.IsBusy && _body.Homed != default && (_now - _timeline.LastEnd).TotalSeconds > idle)
        {
            _body.ReleaseMotors();
        }
    }

    private void Halt()
    {
        _timeline.Abort(_now);
        _heaters.Off(_now);
        _body.ReleaseMotors();
        _lines.Clear();
        IsHalted = true;
        Say(Wording.Halted);
    }

    private void FinishBoot()
    {
        _bootEnd = null;
        _lastLineAt = _now;
        Say(Wording.Start);
        Say($"{CommandTable.FirmwareName} on {_scenario.MachineName}");
        Say(Wording.Loaded);
    }

    private void Acknowledge() => Say(Ok());

    private string Ok() => _wording.Ok(
        _numbering.Last, Math.Max(0, _options.QueuedMoves - _timeline.Waiting), Math.Max(0, _options.QueuedLines - _lines.Count));

    private void Say(string line)
    {
        _chatter.Spoke(_now);
        _send(line);
    }

    private static TimeSpan? Earlier(TimeSpan? one, TimeSpan? other) =>
        one is null ? other : other is null || one < other ? one : other;
}
