using System.Collections.Immutable;
using ProbeRunner.Console.Screens.Pictures.Bed;
using ProbeRunner.Machine.Geometry;

namespace ProbeRunner.Console.Screens.Pictures;

/// <summary>The bed and its screws.</summary>
/// <param name="Bed">The bed.</param>
/// <param name="Screws">As last measured.</param>
/// <param name="ToleranceMm">How far the bed may stand from its mean at a screw.</param>
/// <param name="Round">Which measuring this is; empty before the first.</param>
internal sealed record ScrewsState(BedOutline Bed, ImmutableArray<ScrewMark> Screws, double ToleranceMm, string Round) : PictureState;

/// <summary>One screw.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Place">Where it is.</param>
/// <param name="HeightMm">The bed there above the mean of all screws; null before it was measured.</param>
/// <param name="Turns">Still to be turned, clockwise seen from above positive; 0 for nothing.</param>
/// <param name="RiseMm">What that turn does to the bed there.</param>
/// <param name="IsNow">Whether this one is to be turned now.</param>
internal sealed record ScrewMark(string Name, BedPoint Place, double? HeightMm, double Turns, double RiseMm, bool IsNow);
