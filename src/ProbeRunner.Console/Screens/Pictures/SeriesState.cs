using System.Collections.Immutable;
using ProbeRunner.Procedures.Events;

namespace ProbeRunner.Console.Screens.Pictures;

/// <summary>Readings at one place and what they say of the probe.</summary>
/// <param name="HeightsMm">In the order taken.</param>
/// <param name="SoFar">The running judgement; null before the first.</param>
internal sealed record SeriesState(ImmutableArray<double> HeightsMm, SeriesSoFar? SoFar) : PictureState
{
    /// <summary>No readings yet.</summary>
    public static SeriesState Empty { get; } = new([], null);
}
