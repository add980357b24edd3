namespace ProbeRunner.Metrology.Planes;

/// <summary>One measured point of a surface, in bed coordinates.</summary>
/// <param name="X">To the right, mm.</param>
/// <param name="Y">To the back, mm.</param>
/// <param name="Z">Height, mm; positive where the bed is high.</param>
public readonly record struct SurfacePoint(double X, double Y, double Z);
