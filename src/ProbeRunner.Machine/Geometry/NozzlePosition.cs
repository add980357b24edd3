namespace ProbeRunner.Machine.Geometry;

/// <summary>Where the nozzle's tip is, mm: X and Y in bed coordinates, Z above the datum of the present epoch.</summary>
public readonly record struct NozzlePosition(double X, double Y, double Z);
