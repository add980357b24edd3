using ProbeRunner.Console.Screens.Pictures.Bed;
using ProbeRunner.Machine.Geometry;

namespace ProbeRunner.Console.Screens.Pictures;

/// <summary>The gap that a first layer will see over the bed.</summary>
/// <param name="Bed">The bed.</param>
/// <param name="Gap">Expected gap, mm.</param>
/// <param name="Inside">Probability that it lies within the adhesion window, 0 to 1, on the same lattice.</param>
/// <param name="SetMm">Set height of the first layer.</param>
/// <param name="LowestGapMm">Below this plastic is squeezed out.</param>
/// <param name="HighestGapMm">Above this it does not stick.</param>
/// <param name="Cursor">The place that is read out; null for none.</param>
internal sealed record GapState(
    BedOutline Bed, BedField Gap, BedField Inside, double SetMm, double LowestGapMm, double HighestGapMm, BedPoint? Cursor) : PictureState;
