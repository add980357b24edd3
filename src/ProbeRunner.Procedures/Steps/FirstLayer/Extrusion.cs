namespace ProbeRunner.Procedures.Steps.FirstLayer;

/// <summary>What is laid and with what.</summary>
/// <param name="LineWidthMm">Width of a line and distance between lines, mm; usually the nozzle's bore times 1.1 to 1.2 (common practice, no source).</param>
/// <param name="LayerHeightMm">Height of the first layer, mm.</param>
/// <param name="FilamentMm">Diameter of the filament, mm.</param>
/// <param name="Flow">Share of the computed amount, 1 for all of it.</param>
internal sealed record Extrusion(double LineWidthMm, double LayerHeightMm, double FilamentMm, double Flow)
{
    /// <summary>Filament to push for a line, mm: the line's volume (length x width x height, lines lying side by side) over the filament's cross-section.</summary>
    public double FilamentFor(double lengthMm) => VolumeFor(lengthMm) / (Math.PI * FilamentMm * FilamentMm / 4);

    /// <summary>Plastic in a line, mm^3.</summary>
    public double VolumeFor(double lengthMm) => lengthMm * LineWidthMm * LayerHeightMm * Flow;
}
