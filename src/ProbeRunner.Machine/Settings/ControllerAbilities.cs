namespace ProbeRunner.Machine.Settings;

/// <summary>What a controller can do. What it cannot, the procedures adapt to or tell the person to do by hand.</summary>
public sealed record ControllerAbilities(
    bool NumberedLines,
    bool StoreSettings,
    bool WriteMeshNodes,
    bool ReadMesh,
    bool SetProbeOffset,
    bool ReportSettings)
{
    /// <summary>Whether it can probe a mesh of its own.</summary>
    public bool ProbeOwnMesh { get; init; }
}
