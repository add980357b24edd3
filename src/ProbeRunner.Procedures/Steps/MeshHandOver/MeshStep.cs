using System.Collections.Immutable;
using System.Globalization;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Metrology.Meshes;
using ProbeRunner.Metrology.Planes;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Requests;
using ProbeRunner.Procedures.Steps.Capture;

namespace ProbeRunner.Procedures.Steps.MeshHandOver;

/// <summary>Fits the controller's small mesh to the captured surface, hands it over and compares it node by node.</summary>
internal sealed class MeshStep(double resolutionMm) : Step
{
    private const int DenseSide = 61;

    public override string Name => "mesh";

    public override string Title => "Correction mesh";

    public override string Purpose => "While printing, the controller follows a small grid of heights. Nodes fitted to the whole map leave less error than the bed's heights at the nodes.";

    public override string WhatGoodLooksLike => "Every node reads back as written and little of the bed's shape remains uncorrected.";

    public override Milestones Needs => Milestones.Captured;

    public override Milestones Gives => Milestones.MeshKnown;

    public override StepPlan Plan(MachineProfile profile) => new(Exchanges: profile.Mesh.Columns * profile.Mesh.Rows);

    /// <summary>Key: <c>resolution_mm</c>, the controller's resolution of a node, 0.0001 to 0.05; 0.001 unless said otherwise.</summary>
    public static Step Read(TomlSection section) => new MeshStep(section.Number("resolution_mm", 0.0001, 0.05, 0.001));

    internal override async Task<StepConclusion> RunAsync(StepContext context)
    {
        CaptureConclusion? capture = context.EarlierOrNull<CaptureConclusion>();
        if (capture is null)
        {
            return new PlainConclusion(Verdicts.Undecided("The capture gave no map, so there is no mesh to hand over."), []);
        }

        ControllerIdentity identity = await context.DoAsync(new Identify());
        MeshNodes? found = (await context.DoAsync(new ReadMesh())).Mesh;
        (MeshNodes wanted, MeshError left) = Fit(context, capture, found);
        if (!identity.Abilities.WriteMeshNodes)
        {
            return new MeshConclusion(
                Verdicts.Undecided("This controller's nodes can't be written; they must be entered by hand."), [ByHandFinding()], wanted, null, left.Rms, left.Worst, ByHand(wanted));
        }

        MeshNodes readBack = await context.InSectionAsync("write", Retake.WhenInterrupted, null, () => context.DoAsync(new WriteMesh(wanted)));
        context.NoteChange("correction mesh", Described(found), Described(readBack));
        double worst = wanted.Heights.Zip(readBack.Heights, (node, back) => Math.Abs(node - back)).Max();
        return Conclude(context.Profile, wanted, readBack, left, worst);
    }

    private MeshConclusion Conclude(MachineProfile profile, MeshNodes wanted, MeshNodes readBack, MeshError left, double worst)
    {
        if (worst > resolutionMm)
        {
            var finding = new Finding(
                "mesh.not-as-written", "The mesh reads back otherwise than it was written.", worst, "controller", 1,
                FormattableString.Invariant($"Largest difference of a node {worst:0.000} mm; the controller's resolution is {resolutionMm:0.000} mm."),
                "Do not switch the mesh on. Write it again; if it stays wrong, the controller or its dialect file counts nodes another way.");
            return new MeshConclusion(Verdicts.NotFit(finding.Title), [finding], wanted, readBack, left.Rms, left.Worst, string.Empty);
        }

        double room = (profile.FirstLayer.HighestGapMm - profile.FirstLayer.LowestGapMm) / 2;
        ImmutableArray<Finding> findings = left.Worst <= room
            ? []
            : [new Finding(
                "mesh.too-coarse", "The controller's mesh is too coarse for this bed.", left.Worst,
                FormattableString.Invariant($"x {left.WorstX:0}, y {left.WorstY:0}"), 0.9,
                FormattableString.Invariant($"{left.Worst:0.00} mm remain uncorrected there; a first layer allows {room:0.00} mm either way."),
                "Set up more nodes in the controller if it can, or flatten the bed there.")];
        return new MeshConclusion(
            Verdicts.Fit(FormattableString.Invariant($"All {wanted.Heights.Length} nodes read back as written; {left.Rms:0.000} mm of the shape remain on average."), 0.95),
            findings, wanted, readBack, left.Rms, left.Worst, string.Empty);
    }

    private static (MeshNodes Wanted, MeshError Left) Fit(StepContext context, CaptureConclusion capture, MeshNodes? found)
    {
        MeshProfile profile = context.Profile.Mesh;
        BedRectangle area = found?.Area ?? profile.Area;
        var grid = new MeshGrid(area.MinX, area.MinY, area.MaxX, area.MaxY, found?.Columns ?? profile.Columns, found?.Rows ?? profile.Rows);
        BedPoint home = context.Profile.Travel.HomingPlace;
        double? sigma = context.EarlierOrNull<SeriesConclusion>()?.SigmaMm is { } measured and > 0 ? Math.Max(measured, 0.001) : null;
        CapturedSurface surface = CapturedSurface.Of(capture.Readings, CaptureJudgement.Plate(context.Profile), home, sigma).Value;
        Metrology.Meshes.SurfaceMap map = surface.Map(new Box(area.MinX, area.MinY, area.MaxX, area.MaxY), DenseSide, DenseSide).Heights;
        CorrectionMesh fitted = MeshFit.LeastSquares(grid, map);
        double atHome = fitted.HeightAt(home.X, home.Y, EdgeRule.Clamped);
        ImmutableArray<double> heights = [.. fitted.Heights.Select(height => Math.Round(height - atHome, 3))];
        return (new MeshNodes(area, grid.Columns, grid.Rows, heights), MeshError.Of(fitted, map, EdgeRule.Clamped));
    }

    private static string ByHand(MeshNodes mesh) =>
        "Enter these node heights (mm) at the controller's own screen, front row first, left node first:\n"
        + string.Join('\n', Enumerable.Range(0, mesh.Rows).Select(row => string.Join(
            "  ", mesh.Heights.Skip(row * mesh.Columns).Take(mesh.Columns).Select(height => height.ToString("+0.000;-0.000; 0.000", CultureInfo.InvariantCulture)))));

    private static Finding ByHandFinding() => new(
        "mesh.by-hand", "The correction mesh must be entered by hand.", null, "controller", 1, "The controller takes no single nodes from the host.",
        "Enter the listed heights at its screen, or let it probe its own mesh and capture again to judge that.");

    private static string Described(MeshNodes? mesh) => mesh is null
        ? "none"
        : FormattableString.Invariant($"{mesh.Columns} x {mesh.Rows} nodes, {mesh.Heights.Min():0.000} to {mesh.Heights.Max():0.000} mm");
}
