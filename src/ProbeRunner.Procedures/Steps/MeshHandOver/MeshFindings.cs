using System.Collections.Immutable;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Metrology.Meshes;
using ProbeRunner.Metrology.Planes;
using ProbeRunner.Metrology.Shapes;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Procedures.Steps.MeshHandOver;

/// <summary>What the hand-over has to tell.</summary>
internal static class MeshFindings
{
    private const int MostNodes = 20;

    /// <summary>How far a mesh may leave the bed either way before a first layer suffers, mm.</summary>
    public static double Room(MachineProfile profile) => (profile.FirstLayer.HighestGapMm - profile.FirstLayer.LowestGapMm) / 2;

    /// <summary>The map is not of the bed that is printed on.</summary>
    public static Finding OtherConditions(string why) => new(
        "mesh.other-conditions", "The map was taken under other conditions than printing, so no mesh was handed over.", null, "bed", 1, why,
        "Warm the bed and capture again (the warm-up step can keep it hot), or let this step correct the map by a few touches on the hot bed while you stay with it.");

    /// <summary>The map was handed over all the same.</summary>
    public static Finding AnyConditions(string why) => new(
        "mesh.any-conditions", "The mesh follows a map that was taken under other conditions than printing.", null, "bed", 1, why,
        "Check a first layer before you trust it, or hand a map of the warm bed over.");

    /// <summary>The hot bed is not the map plus a simple change.</summary>
    public static Finding HotUnlike(string evidence) => new(
        "mesh.hot-unlike", "The hot bed differs from the map in a way that a few touches can't correct, so no mesh was handed over.", null, "bed", 0.9, evidence,
        "Capture the whole bed hot and hand that map over.");

    /// <summary>The change from map to hot bed that was added.</summary>
    public static Finding HotCorrected(ShapeTerms change) => new(
        "mesh.hot-corrected", "The map was corrected for the hot bed.",
        Math.Max(Math.Max(Math.Abs(change.BowX.Coefficient), Math.Abs(change.BowY.Coefficient)), Math.Max(Math.Abs(change.TiltX.Coefficient), Math.Abs(change.TiltY.Coefficient))),
        "bed", 0.95,
        FormattableString.Invariant($"From cold to hot it tilts by {change.TiltX.Coefficient:+0.000;-0.000;0.000} and {change.TiltY.Coefficient:+0.000;-0.000;0.000} mm (left to right, front to back), bows by {change.BowX.Coefficient:+0.000;-0.000;0.000} and {change.BowY.Coefficient:+0.000;-0.000;0.000} mm (edges above the middle), twists by {change.Twist.Coefficient:+0.000;-0.000;0.000} mm; that leaves {change.ResidualStandardDeviation:0.000} mm at the places touched."),
        "Nothing; print with the same plate, warmed as long.");

    /// <summary>A lean was taken out of the mesh.</summary>
    public static Finding WithoutLean(LeanAlongAxis axis) => new(
        "mesh.lean-taken-out", $"The lean along {axis.Axis} was taken out of the mesh.", Math.Max(Math.Abs(axis.AtNearSideMm), Math.Abs(axis.AtFarSideMm)), $"gantry, along {axis.Axis}", 0.95,
        FormattableString.Invariant($"The probe's readings rise by {axis.SlopeMmPerMm * 1000:+0.000;-0.000;0.000} µm for each mm along {axis.Axis} that the nozzle does not see."),
        "Square the carriage when you can; then capture again and hand over a mesh without this correction.");

    /// <summary>Nodes came back otherwise.</summary>
    public static Finding NotAsWritten(ImmutableArray<string> nodes) => new(
        "mesh.not-as-written", "The mesh reads back otherwise than it was written.", null, "controller", 1,
        $"{string.Join("; ", nodes.Take(MostNodes))}{(nodes.Length > MostNodes ? FormattableString.Invariant($"; and {nodes.Length - MostNodes} more") : string.Empty)}.",
        "Do not switch the mesh on. Write it again; if it stays wrong, the controller or its dialect file counts nodes another way.");

    /// <summary>The mesh's size does not do for this bed.</summary>
    public static Finding TooCoarse(NozzleSurface surface, MeshNodes nodes, MeshError left, double roomMm)
    {
        return new Finding(
            "mesh.too-coarse", "The controller's mesh is too coarse for this bed.", left.Worst,
            FormattableString.Invariant($"x {left.WorstX:0}, y {left.WorstY:0}"), 0.9,
            FormattableString.Invariant($"{left.Worst:0.00} mm remain uncorrected there with {nodes.Columns} x {nodes.Rows} nodes; a first layer allows {roomMm:0.00} mm either way."),
            SizeAdvice(surface, nodes, roomMm));
    }

    /// <summary>The controller's own mesh is not the bed that was captured.</summary>
    public static Finding OwnMeshOff(MeshError off, double roomMm) => new(
        "mesh.own-mesh-off", "The mesh that the controller probed does not follow the captured bed.", off.Worst,
        FormattableString.Invariant($"x {off.WorstX:0}, y {off.WorstY:0}"), 0.9,
        FormattableString.Invariant($"It is {off.Worst:0.00} mm off there and {off.Rms:0.000} mm on average; a first layer allows {roomMm:0.00} mm either way."),
        "Have it probed again with more nodes or more touches a node, and see that the plate did not move between the two.");

    /// <summary>An own mesh that was probed cold.</summary>
    public static Finding OwnMeshCold(string why) => new(
        "mesh.own-mesh-cold", "The controller's own mesh was probed under other conditions than printing.", null, "bed", 1, why,
        "Let the controller probe its mesh once more at printing temperature, soaked, before you print.");

    private static string SizeAdvice(NozzleSurface surface, MeshNodes nodes, double roomMm)
    {
        const int Most = 25;
        var area = new Box(nodes.Area.MinX, nodes.Area.MinY, nodes.Area.MaxX, nodes.Area.MaxY);
        CorrectionMesh? enough = MeshFit.Smallest(surface.Over(nodes.Area), area, roomMm, roomMm, Most, Most).OrElse(null);
        return enough is null
            ? FormattableString.Invariant($"No mesh of up to {Most} x {Most} nodes would do: flatten the bed there, or change the plate.")
            : FormattableString.Invariant($"Set the controller up for {enough.Grid.Columns} x {enough.Grid.Rows} nodes, the fewest that leave no more than that, or flatten the bed there.");
    }
}
