using ProbeRunner.SimulatedPrinter.Physics;
using ProbeRunner.SimulatedPrinter.Scenarios;

namespace ProbeRunner.SimulatedPrinter.Controller;

/// <summary>Moves that are queued, and what belongs to them.</summary>
internal sealed class MoveCommands(
    Scenario scenario, PrinterBody body, ControllerState state, MotionTimeline timeline, Kinematics kinematics)
{
    private const double MeshSegmentMm = 10;

    /// <summary>Queues a straight move. With correction on, a long one follows the mesh in short pieces.</summary>
    public CommandResult Move(CommandWords words)
    {
        state.Feed = words.Get('F') is > 0 and var feed ? feed / 60 : state.Feed;
        state.Extruded += words.Get('E') ?? 0;
        var lays = words.Get('E') is > 0;
        var from = state.Commanded;
        var target = WithinLimits(new Axes3(
            Target(words.Get('X'), from.X), Target(words.Get('Y'), from.Y), Target(words.Get('Z'), from.Z)));
        var length = Math.Sqrt(Math.Pow(target.X - from.X, 2) + Math.Pow(target.Y - from.Y, 2));
        var pieces = state.MeshOn || lays ? Math.Max(1, (int)Math.Ceiling(length / MeshSegmentMm)) : 1;
        var seconds = kinematics.Seconds(target - from, state.Feed);
        for (var piece = 1; piece <= pieces; piece++)
        {
            timeline.Enqueue(new Phase(state.MotorFor(Axes3.Between(from, target, (double)piece / pieces)), seconds / pieces, LaysPlastic: lays));
        }

        state.Commanded = target;
        return CommandResult.Queued;
    }

    /// <summary>Sets what counts as extruded; the other axes cannot be set.</summary>
    public CommandResult SetExtruded(CommandWords words)
    {
        state.Extruded = words.Get('E') ?? state.Extruded;
        return CommandResult.Done;
    }

    /// <summary>Releases the motors, or with a time sets when standing still releases them.</summary>
    public CommandResult Release(CommandWords words)
    {
        if (words.TryGet('S', out var seconds))
        {
            state.Live.IdleReleaseSeconds = seconds;
            return CommandResult.Done;
        }

        timeline.Begin(ReleaseWhenStill());
        return CommandResult.Long;
    }

    private IEnumerable<Phase> ReleaseWhenStill()
    {
        body.ReleaseMotors();
        yield break;
    }

    private double Target(double? word, double from) => word is null ? from : state.IsAbsolute ? word.Value : from + word.Value;

    private Axes3 WithinLimits(Axes3 target)
    {
        var (travel, bed) = (scenario.Travel, scenario.Bed);
        return !state.SoftLimitsOn
            ? target
            : new Axes3(
                body.Homed.X ? Math.Clamp(target.X, travel.MinX + bed.ControllerOriginX, travel.MaxX + bed.ControllerOriginX) : target.X,
                body.Homed.Y ? Math.Clamp(target.Y, travel.MinY + bed.ControllerOriginY, travel.MaxY + bed.ControllerOriginY) : target.Y,
                body.Homed.Z ? Math.Clamp(target.Z, travel.LowestZ, travel.HighestZ) : target.Z);
    }
}
