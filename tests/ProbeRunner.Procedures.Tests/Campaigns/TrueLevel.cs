using System.Collections.Immutable;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.SimulatedPrinter.Physics;

namespace ProbeRunner.Campaigns;

/// <summary>How far from level the plate truly stands.</summary>
internal static class TrueLevel
{
    /// <summary>The plane through the true plate at the screws: its largest distance from its mean there, mm.</summary>
    /// <param name="screws">Three, or four in the order of a rectangle's rows.</param>
    /// <param name="truth">The machine.</param>
    public static double WorstMm(ImmutableArray<ScrewProfile> screws, Truth truth)
    {
        double[] heights = [.. screws.Select(screw => truth.BedHeightAt(screw.Place.X, screw.Place.Y))];
        double mean = heights.Average();

        // Four screws at a rectangle's corners: half the twist comes off each of them.
        double twist = screws.Length == 4 ? (heights[0] - heights[1] - heights[2] + heights[3]) / 4 : 0;
        double[] twists = [twist, -twist, -twist, twist];
        return heights.Select((height, index) => Math.Abs(height - mean - (screws.Length == 4 ? twists[index] : 0))).Max();
    }
}
