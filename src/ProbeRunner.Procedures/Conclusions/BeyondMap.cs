using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Metrology.Shapes;

namespace ProbeRunner.Procedures.Conclusions;

/// <summary>By how much the bed that the nozzle meets while printing differs from the captured map, relative to the homing place.</summary>
/// <param name="Hot">From the map to the hot bed; null when the map was taken hot.</param>
/// <param name="Leans">Leans along the gantry that the map carries and the nozzle does not meet.</param>
/// <param name="Home">The homing place, where the change is 0.</param>
public sealed record BeyondMap(ShapeTerms? Hot, ImmutableArray<LeanSlope> Leans, BedPoint Home)
{
    /// <summary>The bed's height less the map's at a place, mm.</summary>
    public double At(double x, double y) =>
        (Hot is null ? 0 : Hot.HeightAt(x, y) - Hot.HeightAt(Home.X, Home.Y)) - Leans.Sum(lean => lean.SlopeMmPerMm * ((lean.Axis == "X" ? x : y) - lean.OriginMm));

    /// <summary>What the few touches on the hot bed leave open, as a standard uncertainty, mm.</summary>
    public double StandardUncertaintyMm => Hot?.ResidualStandardDeviation ?? 0;
}

/// <summary>A lean along an axis: the readings rise by the slope for each mm from where the machine homes.</summary>
public readonly record struct LeanSlope(string Axis, double SlopeMmPerMm, double OriginMm);
