using ProbeRunner.SimulatedPrinter.Chance;
using ProbeRunner.SimulatedPrinter.Physics;
using ProbeRunner.SimulatedPrinter.Scenarios;

namespace ProbeRunner.SimulatedPrinter.Controller;

/// <summary>What became of a command.</summary>
internal enum CommandResult
{
    Done,
    Temperatures,
    Queued,
    Long,
    Halted,
    Unknown,
}

/// <summary>The commands that the controller knows, each to what it does.</summary>
internal sealed class CommandTable
{
    /// <summary>The firmware's invented name.</summary>
    public const string FirmwareName = "Bramblewick 2.3";

    private readonly Scenario _scenario;
    private readonly PrinterBody _body;
    private readonly ControllerState _state;
    private readonly MotionTimeline _timeline;
    private readonly HeaterPanel _heaters;
    private readonly Wording _wording;
    private readonly Action<string> _say;
    private readonly Action _halt;
    private readonly CommandWords _words = new();
    private readonly MoveCommands _moves;
    private readonly ProbingCommands _probing;
    private readonly SettingCommands _settings;

    public CommandTable(
        Scenario scenario, PrinterBody body, ControllerState state, MotionTimeline timeline, HeaterPanel heaters, Wording wording,
        Action<string> say, Action halt)
    {
        (_scenario, _body, _state, _timeline, _heaters, _wording, _say, _halt) =
            (scenario, body, state, timeline, heaters, wording, say, halt);
        var kinematics = new Kinematics(scenario.Travel, state);
        _moves = new MoveCommands(scenario, body, state, timeline, kinematics);
        _probing = new ProbingCommands(scenario, body, state, kinematics, wording, say, halt);
        _settings = new SettingCommands(scenario, body, state, wording, say);
    }

    /// <summary>Does a command, or begins it.</summary>
    public CommandResult Execute(ReadOnlySpan<char> command, TimeSpan now, LineNumbering numbering)
    {
        if (!_words.TryParse(command))
        {
            return CommandResult.Unknown;
        }

        return _words.Letter switch
        {
            'G' => ExecuteMotion(),
            'M' => ExecuteMachine(now, numbering),
            _ => CommandResult.Unknown,
        };
    }

    private CommandResult ExecuteMotion()
    {
        switch (_words.Number)
        {
            case 0 or 1:
                return _moves.Move(_words);
            case 4:
                var count = _words.Get('P') is { } p ? p / (_scenario.Controller.DwellCountsMilliseconds ? 1000 : 1) : 0;
                return Begin([Phase.Still(Math.Max(0, _words.Get('S') ?? count))]);
            case 21 or 92:
                return _moves.SetExtruded(_words);
            case 28:
                var all = !_words.Has('X') && !_words.Has('Y') && !_words.Has('Z');
                return Begin(_probing.Home(all || _words.Has('X'), all || _words.Has('Y'), all || _words.Has('Z')));
            case 29:
                return _scenario.Controller.HasMesh ? Begin(_probing.ProbeMesh()) : CommandResult.Unknown;
            case 30:
                return Begin(Touch());
            case 90 or 91:
                _state.IsAbsolute = _words.Number == 90;
                return CommandResult.Done;
            default:
                return CommandResult.Unknown;
        }
    }

    private IEnumerable<Phase> Touch()
    {
        var x = _words.Get('X') ?? (_state.Commanded.X + _state.Live.OffsetX);
        var y = _words.Get('Y') ?? (_state.Commanded.Y + _state.Live.OffsetY);
        return _probing.Touch(x - _scenario.Bed.ControllerOriginX, y - _scenario.Bed.ControllerOriginY, x, y);
    }

    private CommandResult ExecuteMachine(TimeSpan now, LineNumbering numbering)
    {
        switch (_words.Number)
        {
            case 82 or 83 or 106 or 107 or 220 or 221:
                return CommandResult.Done;
            case 84:
                return _moves.Release(_words);
            case 104:
                return Accepted(_heaters.TrySetNozzle(_words.Get('S') ?? 0, now), "nozzle");
            case 105:
                return CommandResult.Temperatures;
            case 110:
                numbering.Last = _words.Get('N') is { } number ? (long)number : numbering.Last;
                return CommandResult.Done;
            case 112:
                _halt();
                return CommandResult.Halted;
            case 114:
                return ReportPosition();
            case 115:
                return Identify();
            case 119:
                return ReportSwitches();
            case 140:
                return Accepted(_heaters.TrySetBed(_words.Get('S') ?? 0, now), "bed");
            case 155:
                _state.ReportSeconds = _words.Get('S') ?? 0;
                return CommandResult.Done;
            case 280:
                return MoveServo();
            case 400:
                return Begin([]);
            case 401 when _scenario.Controller.ProbeCommands != ProbeCommandStyle.Servo:
                return Begin(_probing.Extend());
            case 402 when _scenario.Controller.ProbeCommands != ProbeCommandStyle.Servo:
                return Begin(_probing.Retract());
            default:
                var result = _settings.Execute(_words);
                return result == CommandResult.Long ? Begin([Phase.Still(0.1)]) : result;
        }
    }

    private CommandResult MoveServo()
    {
        if (_scenario.Controller.ProbeCommands == ProbeCommandStyle.Simple)
        {
            return CommandResult.Unknown;
        }

        return _words.Get('S') switch
        {
            10 => Begin(_probing.Extend()),
            90 => Begin(_probing.Retract()),
            120 => Begin(_probing.Cycle()),
            160 => Begin(_probing.ClearFault()),
            _ => CommandResult.Done,
        };
    }

    private CommandResult Accepted(bool accepted, string what)
    {
        if (!accepted)
        {
            _say($"error: {what} temperature out of range, target not changed");
        }

        return CommandResult.Done;
    }

    private CommandResult ReportPosition()
    {
        var steps = _body.Motor - _state.Shift;
        _say(_wording.Position(
            _state.Commanded, _state.Extruded, steps.X * _scenario.Travel.StepsPerMmXY, steps.Y * _scenario.Travel.StepsPerMmXY,
            steps.Z * _scenario.Travel.StepsPerMmZ));
        return CommandResult.Done;
    }

    private CommandResult Identify()
    {
        var options = _scenario.Controller;
        var identity = KeyedNoise.Hash(_scenario.Seed, NoiseKind.Identity, 0);
        _say($"FIRMWARE_NAME:{FirmwareName} MACHINE_TYPE:{_scenario.MachineName} AXES:3 UUID:{identity:x16}");
        _say($"CAN:LINE_NUMBERS:{Bit(options.Checksums)}");
        _say($"CAN:SETTINGS_STORE:{Bit(options.StoresSettings)}");
        _say($"CAN:SETTINGS_REPORT:{Bit(options.ReportsSettings)}");
        _say($"CAN:CORRECTION_MESH:{Bit(options.HasMesh)}");
        _say($"CAN:MESH_WRITE:{Bit(options.HasMesh && options.WritesMesh)}");
        _say($"CAN:SILENCE_HEATERS_OFF:{Bit(options.SilenceHeatersOffSeconds > 0)}");
        return CommandResult.Done;
    }

    private CommandResult ReportSwitches()
    {
        var place = _body.Motor;
        _say("End switches and probe");
        _say(Wording.Switch("x_low", place.X <= _scenario.Travel.MinX));
        _say(Wording.Switch("y_low", place.Y <= _scenario.Travel.MinY));
        if (!_scenario.Travel.HomesWithProbe)
        {
            _say(Wording.Switch("z_low", place.Z <= 0));
        }

        _say(Wording.Switch("z_probe", _body.Probe.LooksTriggered()));
        return CommandResult.Done;
    }

    private CommandResult Begin(IEnumerable<Phase> phases)
    {
        _timeline.Begin(phases);
        return CommandResult.Long;
    }

    private static int Bit(bool flag) => flag ? 1 : 0;
}
