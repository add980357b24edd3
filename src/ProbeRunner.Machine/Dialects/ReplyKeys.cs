using System.Collections.Frozen;
using System.Collections.Immutable;

namespace ProbeRunner.Machine.Dialects;

/// <summary>The replies a dialect describes, by their keys in the file, each with the groups its patterns may name.</summary>
internal static class ReplyKeys
{
    public const string IdentityField = "identity_field";
    public const string Capability = "capability";
    public const string Position = "position";
    public const string Touch = "touch";
    public const string TouchFailure = "touch_failure";
    public const string Switch = "switch";
    public const string ProbeOffset = "probe_offset";
    public const string MeshState = "mesh_state";
    public const string MeshArea = "mesh_area";
    public const string MeshRow = "mesh_row";
    public const string SoftLimits = "soft_limits";
    public const string TravelLimits = "travel_limits";
    public const string Setting = "setting";
    public const string Temperatures = "temperatures";

    /// <summary>Groups that each pattern of a reply must have.</summary>
    public static FrozenDictionary<string, ImmutableArray<string>> RequiredGroups { get; } =
        new Dictionary<string, ImmutableArray<string>>(StringComparer.Ordinal)
        {
            [IdentityField] = ["key"],
            [Capability] = ["key", "value"],
            [Position] = ["x", "y", "z"],
            [Touch] = ["x", "y", "z"],
            [TouchFailure] = [],
            [Switch] = ["name"],
            [ProbeOffset] = ["x", "y", "z"],
            [MeshState] = ["state"],
            [MeshArea] = ["min_x", "min_y", "max_x", "max_y"],
            [MeshRow] = ["heights"],
            [SoftLimits] = ["state"],
            [TravelLimits] = ["min_x", "min_y", "min_z", "max_x", "max_y", "max_z"],
            [Setting] = ["word", "fields"],
            [Temperatures] = ["nozzle", "nozzle_target", "bed", "bed_target"],
        }.ToFrozenDictionary(StringComparer.Ordinal);
}
