using System.Collections.Immutable;
using ProbeRunner.Machine.Dialects;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Patterns;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Metrology.Ordinal;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Scripts;

namespace ProbeRunner.Procedures.Steps.FirstLayer;

/// <summary>The first-layer check's patches as a file, for a machine that prints without this program.</summary>
public static class FirstLayerPattern
{
    private const int Patches = 12;
    private const int WorstPredicted = 4;

    /// <summary>Renders the pattern: ramped heights about both ends of the adhesion window, the worst predicted places first.</summary>
    /// <param name="set">Parameters of the first-layer step, each as <c>key=value</c>.</param>
    /// <param name="capture">The bed as captured; null when it was not, then corners and middle come first.</param>
    /// <param name="mesh">The mesh handed over after it; null likewise.</param>
    /// <exception cref="Machine.Toml.FileFaultException">A parameter is wrong.</exception>
    /// <exception cref="Machine.Printers.NotAbleException">The dialect does not say how a pattern is written.</exception>
    /// <exception cref="Machine.Heat.HeatRefusedException">A temperature is above the machine's cap.</exception>
    public static string Render(Dialect dialect, MachineProfile profile, IReadOnlyList<string> set, CaptureConclusion? capture, MeshConclusion? mesh)
    {
        ArgumentNullException.ThrowIfNull(profile);
        FirstLayerParameters parameters = RunScript.ForStep("first-layer", set).Steps.OfType<FirstLayerStep>().Single().Parameters;
        ImmutableArray<Patch> patches = Planned(profile, parameters, GapPrediction.Of(profile, capture, mesh, null));
        PatternBlock[] blocks =
        [
            .. patches.Select((patch, index) => new PatternBlock(
                    FormattableString.Invariant($"patch {index + 1} of {patches.Length}: around x {patch.Centre.X:0}, y {patch.Centre.Y:0}, laid at {patch.HeightMm:0.000} mm"),
                    patch.Start, patch.HeightMm, parameters.FeedMmPerMin, [.. patch.Lines])),
        ];
        return PatternFile.Render(
            dialect, profile, new PatternHeat(profile.Heat.ProbingNozzleCelsius, parameters.NozzleCelsius, profile.Heat.PrintingBedCelsius), Head(profile, parameters), blocks);
    }

    /// <summary>The patches of the pattern, in the order in which they are printed.</summary>
    /// <param name="prediction">What capture and mesh promise; null when there are none.</param>
    internal static ImmutableArray<Patch> Planned(MachineProfile profile, FirstLayerParameters parameters, GapPrediction? prediction)
    {
        FirstLayerProfile layer = profile.FirstLayer;
        ImmutableArray<BedPoint> places = PatchPlaces.Chosen(profile, prediction, WorstPredicted, Patches);
        ImmutableArray<double> gaps = PatchDesign.Coarse(layer.LowestGapMm, layer.HighestGapMm, places.Length);
        Extrusion laid = parameters.Laid(layer);
        return [.. places.Select((place, index) => Patch.Square(place, PatchPlaces.HeightFor(layer, prediction, place, gaps[index]), PatchPlaces.SideMm, laid))];
    }

    private static ImmutableArray<string> Head(MachineProfile profile, FirstLayerParameters parameters) =>
    [
        $"First-layer check for {profile.Name}: patches at ramped heights.",
        "Only over a Z offset that was proven at the bed, with the mesh stored. Hot parts burn, moving axes pinch: stay with it, a hand at the mains switch.",
        FormattableString.Invariant($"line width {parameters.LineWidthMm:0.###} mm, layer {profile.FirstLayer.HeightMm:0.###} mm, filament {parameters.FilamentMm:0.###} mm, flow {parameters.Flow:0.###}"),
    ];
}
