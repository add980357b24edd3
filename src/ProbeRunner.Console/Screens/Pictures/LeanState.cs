using System.Collections.Immutable;

namespace ProbeRunner.Console.Screens.Pictures;

/// <summary>The distance from nozzle to trigger along an axis.</summary>
/// <param name="Axis">"X" or "Y".</param>
/// <param name="SpanMm">The bed along that axis, from 0.</param>
/// <param name="Points">What was measured.</param>
/// <param name="Line">The fitted line; null before there is enough.</param>
/// <param name="ToleranceMm">What the change over half the bed may be.</param>
internal sealed record LeanState(char Axis, double SpanMm, ImmutableArray<LeanPoint> Points, LeanLine? Line, double ToleranceMm) : PictureState;

/// <summary>The distance at one place, with its standard uncertainty, mm.</summary>
internal readonly record struct LeanPoint(double AtMm, double DistanceMm, double StandardUncertaintyMm);

/// <summary>A straight line through the distances.</summary>
/// <param name="MiddleMm">Distance in the middle of the places.</param>
/// <param name="CentreMm">That middle, bed coordinate.</param>
/// <param name="Slope">Change per mm.</param>
/// <param name="SlopeLower">Lower 95 % limit.</param>
/// <param name="SlopeUpper">Upper 95 % limit.</param>
internal sealed record LeanLine(double MiddleMm, double CentreMm, double Slope, double SlopeLower, double SlopeUpper)
{
    /// <summary>The line with another slope through the same middle.</summary>
    public double At(double place, double slope) => MiddleMm + (slope * (place - CentreMm));
}
