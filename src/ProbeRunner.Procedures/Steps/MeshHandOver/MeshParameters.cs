using ProbeRunner.Machine.Toml;

namespace ProbeRunner.Procedures.Steps.MeshHandOver;

/// <summary>Parameters of the mesh hand-over.</summary>
/// <param name="ResolutionMm">The controller's resolution of a node, mm, 0.0001 to 0.05.</param>
/// <param name="HotGrid">Whether a map taken under other conditions than printing's is corrected by a few touches on the hot bed, a person present; refused otherwise.</param>
/// <param name="HotSoakMinutes">How long the bed stands at its temperature before those touches, 1 to 120; null for the profile's soak.</param>
/// <param name="AnyConditions">Whether a map is handed over as it is, whatever it was taken under; the verdict then stays open.</param>
internal sealed record MeshParameters(double ResolutionMm, bool HotGrid, double? HotSoakMinutes, bool AnyConditions)
{
    /// <summary>Keys: resolution_mm, hot_grid, hot_soak_minutes, any_conditions.</summary>
    public static MeshParameters Read(TomlSection section) => new(
        section.Number("resolution_mm", 0.0001, 0.05, 0.001),
        section.Flag("hot_grid", true),
        section.Has("hot_soak_minutes") ? section.Number("hot_soak_minutes", 1, 120) : null,
        section.Flag("any_conditions", false));

    /// <summary>The soak on a machine.</summary>
    public TimeSpan Soak(TimeSpan profiles) => HotSoakMinutes is { } minutes ? TimeSpan.FromMinutes(minutes) : profiles;
}
