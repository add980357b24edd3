using ProbeRunner.SimulatedPrinter.Physics;

namespace ProbeRunner.Procedures.Tests.Safety;

/// <summary>What a run may change at the controller, by the simulator's truth.</summary>
internal sealed record SettingsSeen(
    bool SoftLimitsOn, bool MeshCorrectionOn, double OffsetZ, string Mesh, double NozzleTarget, double BedTarget, double HighestZFeed, double IdleReleaseSeconds)
{
    public static SettingsSeen Of(Truth truth) => new(
        truth.SoftLimitsOn,
        truth.MeshCorrectionOn,
        Math.Round(truth.LiveOffsetZ, 4),
        string.Join(' ', truth.Mesh.Select(height => Math.Round(height, 4))),
        truth.HeaterTargets.Nozzle,
        truth.HeaterTargets.Bed,
        Math.Round(truth.HighestZFeed, 3),
        truth.IdleReleaseSeconds);
}
