using ProbeRunner.Machine.Geometry;

namespace ProbeRunner.Machine.Settings;

/// <summary>The travel that a controller itself allows the nozzle, mm.</summary>
/// <param name="Nozzle">Along X and Y, bed coordinates.</param>
/// <param name="LowestZ">The lowest Z.</param>
/// <param name="HighestZ">The highest Z.</param>
public sealed record TravelLimits(BedRectangle Nozzle, double LowestZ, double HighestZ);
