namespace ProbeRunner.Machine.Settings;

/// <summary>Where the probe is, seen from the nozzle, mm (probe minus nozzle).</summary>
/// <param name="X">Negative: the probe sits left of the nozzle.</param>
/// <param name="Y">Negative: the probe sits in front of the nozzle.</param>
/// <param name="Z">The stored Z offset: minus the nozzle's true height above the bed at the trigger.</param>
public readonly record struct ProbeOffset(double X, double Y, double Z);
