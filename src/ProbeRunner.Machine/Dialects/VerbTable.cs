using System.Collections.Frozen;
using System.Collections.Immutable;
using ProbeRunner.Transport.Commands;

namespace ProbeRunner.Machine.Dialects;

/// <summary>What every dialect must agree on about a verb.</summary>
/// <param name="Key">Its key in a dialect file.</param>
/// <param name="Parameters">The numbers it takes, by name.</param>
/// <param name="Kind">What it does to the machine, which decides deadlines and whether it may be sent again.</param>
/// <param name="Reply">The key of the reply that answers it; null when the acknowledgement alone does.</param>
internal sealed record VerbRule(string Key, ImmutableArray<string> Parameters, CommandKind Kind, string? Reply = null);

/// <summary>The verbs and their rules.</summary>
internal static class VerbTable
{
    public static FrozenDictionary<Verb, VerbRule> Rules { get; } = new Dictionary<Verb, VerbRule>
    {
        [Verb.Identify] = new("identify", [], CommandKind.Query, ReplyKeys.IdentityField),
        [Verb.HomeAll] = new("home_all", [], CommandKind.LongMotion),
        [Verb.HomeXY] = new("home_xy", [], CommandKind.LongMotion),
        [Verb.HomeX] = new("home_x", [], CommandKind.LongMotion),
        [Verb.HomeY] = new("home_y", [], CommandKind.LongMotion),
        [Verb.HomeZ] = new("home_z", [], CommandKind.LongMotion),
        [Verb.Absolute] = new("absolute", [], CommandKind.Setting),
        [Verb.MoveLevel] = new("move_level", ["x", "y", "feed"], CommandKind.Motion),
        [Verb.MoveHeight] = new("move_height", ["z", "feed"], CommandKind.Motion),
        [Verb.LiftRelative] = new("lift_relative", ["z", "feed"], CommandKind.Motion),
        [Verb.WaitForMotion] = new("wait_for_motion", [], CommandKind.LongMotion),
        [Verb.Dwell] = new("dwell", ["milliseconds"], CommandKind.LongMotion),
        [Verb.Position] = new("position", [], CommandKind.Query, ReplyKeys.Position),
        [Verb.Touch] = new("touch", ["x", "y"], CommandKind.LongMotion, ReplyKeys.Touch),
        [Verb.ExtendProbe] = new("extend_probe", [], CommandKind.LongMotion),
        [Verb.RetractProbe] = new("retract_probe", [], CommandKind.LongMotion),
        [Verb.ClearProbeFault] = new("clear_probe_fault", [], CommandKind.LongMotion),
        [Verb.Switches] = new("switches", [], CommandKind.Query, ReplyKeys.Switch),
        [Verb.ReadProbeOffset] = new("read_probe_offset", [], CommandKind.Query, ReplyKeys.ProbeOffset),
        [Verb.WriteProbeOffset] = new("write_probe_offset", ["x", "y", "z"], CommandKind.Setting),
        [Verb.MeshOn] = new("mesh_on", [], CommandKind.Setting),
        [Verb.MeshOff] = new("mesh_off", [], CommandKind.Setting),
        [Verb.MeshState] = new("mesh_state", [], CommandKind.Query, ReplyKeys.MeshState),
        [Verb.ReadMesh] = new("read_mesh", [], CommandKind.Query),
        [Verb.WriteMeshNode] = new("write_mesh_node", ["column", "row", "z"], CommandKind.Setting),
        [Verb.ProbeMesh] = new("probe_mesh", [], CommandKind.LongMotion),
        [Verb.SoftLimitsOn] = new("soft_limits_on", [], CommandKind.Setting),
        [Verb.SoftLimitsOff] = new("soft_limits_off", [], CommandKind.Setting),
        [Verb.SoftLimits] = new("soft_limits", [], CommandKind.Query, ReplyKeys.SoftLimits),
        [Verb.StoreSettings] = new("store_settings", [], CommandKind.Store),
        [Verb.ReloadSettings] = new("reload_settings", [], CommandKind.Store),
        [Verb.ReadSettings] = new("read_settings", [], CommandKind.Query, ReplyKeys.Setting),
        [Verb.NozzleTarget] = new("nozzle_target", ["celsius"], CommandKind.Setting),
        [Verb.BedTarget] = new("bed_target", ["celsius"], CommandKind.Setting),
        [Verb.Temperatures] = new("temperatures", [], CommandKind.Query, ReplyKeys.Temperatures),
        [Verb.LayLine] = new("lay_line", ["x", "y", "filament", "feed"], CommandKind.Motion),
        [Verb.Nudge] = new("nudge", ["z"], CommandKind.Setting),
        [Verb.LimitZSpeed] = new("limit_z_speed", ["speed"], CommandKind.Setting),
        [Verb.ReleaseMotors] = new("release_motors", [], CommandKind.Setting),
        [Verb.IdleRelease] = new("idle_release", ["seconds"], CommandKind.Setting),
    }.ToFrozenDictionary();

    /// <summary>The verbs no dialect can do without: what is safe rests on them.</summary>
    public static ImmutableArray<Verb> Required { get; } =
    [
        Verb.HomeXY, Verb.HomeZ, Verb.Absolute, Verb.MoveLevel, Verb.MoveHeight, Verb.LiftRelative,
        Verb.WaitForMotion, Verb.Position, Verb.Touch, Verb.NozzleTarget, Verb.BedTarget, Verb.Temperatures,
    ];
}
