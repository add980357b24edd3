using ProbeRunner.Machine.Geometry;

namespace ProbeRunner.Machine.Touches;

/// <summary>One touch as the controller reported it, not yet believed, beside where it says the nozzle is afterwards. Bed coordinates, mm.</summary>
/// <param name="Asked">Where the probe's tip was sent.</param>
/// <param name="Reported">Where the report says the touch was; null when no report could be read.</param>
/// <param name="SaidMm">The height in the report, as it stands there.</param>
/// <param name="NozzleMm">The nozzle's height at the trigger that this means by the dialect, stored offset excluded.</param>
/// <param name="After">Where the controller says that the nozzle is, asked afterwards.</param>
public readonly record struct TouchCheck(BedPoint Asked, BedPoint? Reported, double SaidMm, double NozzleMm, NozzlePosition After);
