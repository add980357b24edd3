using ProbeRunner.Machine.Geometry;

namespace ProbeRunner.Machine.Guard;

/// <summary>The guard's opening for a step-down at one place.</summary>
/// <param name="Place">Where the nozzle may come down, bed coordinates.</param>
/// <param name="FloorZ">No target goes below, mm: trigger height minus the entered trigger-to-nozzle distance and 0.5 mm, and never below the lowest Z.</param>
/// <param name="NearBedZ">Below this height a step down is at most 0.1 mm.</param>
public sealed record StepDownOpening(BedPoint Place, double FloorZ, double NearBedZ);
