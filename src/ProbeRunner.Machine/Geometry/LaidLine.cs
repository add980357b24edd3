namespace ProbeRunner.Machine.Geometry;

/// <summary>One straight line of plastic, from where the nozzle is to a place.</summary>
/// <param name="To">Its end, bed coordinates.</param>
/// <param name="FilamentMm">How much filament is pushed, mm.</param>
public readonly record struct LaidLine(BedPoint To, double FilamentMm);
