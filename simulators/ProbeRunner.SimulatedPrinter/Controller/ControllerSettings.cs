using ProbeRunner.SimulatedPrinter.Scenarios;

namespace ProbeRunner.SimulatedPrinter.Controller;

/// <summary>What a controller can store and what a reset brings back.</summary>
internal sealed record ControllerSettings
{
    public required double OffsetX { get; set; }

    public required double OffsetY { get; set; }

    public required double OffsetZ { get; set; }

    public required double IdleReleaseSeconds { get; set; }

    /// <summary>Z goes no faster, mm/s.</summary>
    public required double MaxFeedZ { get; set; }

    /// <summary>Row by row, front row first, left node first, mm.</summary>
    public required double[] Mesh { get; init; }

    public static ControllerSettings Factory(Scenario scenario) => new()
    {
        OffsetX = scenario.Controller.StoredOffsetX,
        OffsetY = scenario.Controller.StoredOffsetY,
        OffsetZ = scenario.Controller.StoredOffsetZ,
        IdleReleaseSeconds = scenario.Controller.IdleReleaseSeconds,
        MaxFeedZ = scenario.Travel.MaxFeedZ,
        Mesh = new double[scenario.Mesh.Columns * scenario.Mesh.Rows],
    };

    public ControllerSettings Copy() => this with { Mesh = [.. Mesh] };
}
