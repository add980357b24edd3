using ProbeRunner.SimulatedPrinter.Physics;
using ProbeRunner.SimulatedPrinter.Scenarios;

namespace ProbeRunner.SimulatedPrinter.Controller;

/// <summary>Settings: probe offset, mesh, limits, nudge, and storing, reloading and reporting them all.</summary>
internal sealed class SettingCommands(
    Scenario scenario, PrinterBody body, ControllerState state, Wording wording, Action<string> say)
{
    private readonly ControllerScenario _options = scenario.Controller;

    /// <summary>Does the command in the words; <see cref="CommandResult.Long"/> means that it takes a moment.</summary>
    public CommandResult Execute(CommandWords words) => words.Number switch
    {
        203 => Speeds(words),
        211 => SoftLimits(words),
        290 => Nudge(words),
        420 when _options.HasMesh => Mesh(words),
        421 when _options.HasMesh && _options.WritesMesh => Node(words),
        500 when _options.StoresSettings => Store(),
        501 when _options.StoresSettings => Reload(),
        503 when _options.ReportsSettings => Report(),
        851 => Offset(words),
        _ => CommandResult.Unknown,
    };

    private CommandResult Speeds(CommandWords words)
    {
        state.Live.MaxFeedZ = words.Get('Z') is > 0 and var feed ? feed : state.Live.MaxFeedZ;
        return CommandResult.Done;
    }

    private CommandResult SoftLimits(CommandWords words)
    {
        if (words.TryGet('S', out var on))
        {
            state.SoftLimitsOn = on != 0;
        }

        var (travel, bed) = (scenario.Travel, scenario.Bed);
        say(wording.SoftLimits(
            state.SoftLimitsOn,
            new Axes3(travel.MinX + bed.ControllerOriginX, travel.MinY + bed.ControllerOriginY, travel.LowestZ),
            new Axes3(travel.MaxX + bed.ControllerOriginX, travel.MaxY + bed.ControllerOriginY, travel.HighestZ)));
        return CommandResult.Done;
    }

    private CommandResult Nudge(CommandWords words)
    {
        // The nozzle moves, what the controller believes of its place does not.
        var mm = words.Get('Z') ?? 0;
        state.NudgeMm += mm;
        body.Move(body.Motor with { Z = body.ToStep(body.Motor.Z + mm) }, 0, isHoming: false);
        return CommandResult.Done;
    }

    private CommandResult Mesh(CommandWords words)
    {
        if (words.TryGet('S', out var on))
        {
            state.MeshOn = on != 0 && state.Live.Mesh.Any(height => height != 0);
            if (on != 0 && !state.MeshOn)
            {
                say("error: there is no mesh");
            }
        }

        if (words.Has('V'))
        {
            say(Wording.MeshArea(scenario.Mesh, scenario.Bed.ControllerOriginX, scenario.Bed.ControllerOriginY));
            for (var row = 0; row < scenario.Mesh.Rows; row++)
            {
                say(Wording.MeshRow(state.Live.Mesh.AsSpan(row * scenario.Mesh.Columns, scenario.Mesh.Columns)));
            }
        }

        say(wording.MeshState(state.MeshOn));
        return CommandResult.Done;
    }

    private CommandResult Node(CommandWords words)
    {
        var (columns, rows) = (scenario.Mesh.Columns, scenario.Mesh.Rows);
        if (words.Get('I') is not { } column || words.Get('J') is not { } row || words.Get('Z') is not { } height
            || column < 0 || column >= columns || row < 0 || row >= rows || column % 1 != 0 || row % 1 != 0)
        {
            say("error: there is no such mesh node");
            return CommandResult.Done;
        }

        state.Live.Mesh[((int)row * columns) + (int)column] = height;
        return CommandResult.Done;
    }

    private CommandResult Store()
    {
        state.Store();
        say(Wording.Stored);
        return CommandResult.Long;
    }

    private CommandResult Reload()
    {
        state.Reload();
        say(Wording.Loaded);
        return CommandResult.Done;
    }

    private CommandResult Offset(CommandWords words)
    {
        var live = state.Live;
        live.OffsetX = words.Get('X') ?? live.OffsetX;
        live.OffsetY = words.Get('Y') ?? live.OffsetY;
        live.OffsetZ = words.Get('Z') ?? live.OffsetZ;
        say(wording.Offset(live.OffsetX, live.OffsetY, live.OffsetZ));
        return CommandResult.Done;
    }

    private CommandResult Report()
    {
        var (travel, live, grid) = (scenario.Travel, state.Live, scenario.Mesh);
        say(wording.Setting($"; settings as they are now"));
        say(wording.Setting($"M92 X{travel.StepsPerMmXY:F2} Y{travel.StepsPerMmXY:F2} Z{travel.StepsPerMmZ:F2} E93.00"));
        say(wording.Setting($"M203 X{travel.MaxFeedXY:F2} Y{travel.MaxFeedXY:F2} Z{live.MaxFeedZ:F2} E30.00"));
        say(wording.Setting($"M201 X{travel.AccelerationXY:F0} Y{travel.AccelerationXY:F0} Z{travel.AccelerationZ:F0} E1000"));
        say(wording.Setting($"M211 S{(state.SoftLimitsOn ? 1 : 0)}"));
        say(wording.Setting($"M84 S{live.IdleReleaseSeconds:F0}"));
        say(wording.Setting($"M851 X{live.OffsetX:F3} Y{live.OffsetY:F3} Z{live.OffsetZ:F3}"));
        if (_options.HasMesh)
        {
            say(wording.Setting($"M420 S{(state.MeshOn ? 1 : 0)}"));
            for (var node = 0; node < live.Mesh.Length; node++)
            {
                say(wording.Setting($"M421 I{node % grid.Columns} J{node / grid.Columns} Z{live.Mesh[node]:F4}"));
            }
        }

        return CommandResult.Done;
    }
}
