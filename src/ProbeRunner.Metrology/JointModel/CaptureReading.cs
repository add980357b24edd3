namespace ProbeRunner.Metrology.JointModel;

/// <summary>One reading of a capture.</summary>
/// <param name="X">Bed place, mm.</param>
/// <param name="Y">Bed place, mm.</param>
/// <param name="Z">Nozzle height at the trigger in its own datum epoch, mm.</param>
/// <param name="TimeSeconds">Time of the trigger, s, from any fixed moment.</param>
/// <param name="Epoch">Number of the datum epoch; a higher number is a later homing.</param>
public readonly record struct CaptureReading(double X, double Y, double Z, double TimeSeconds, int Epoch);
