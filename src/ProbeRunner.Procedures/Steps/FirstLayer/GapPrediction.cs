using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Metrology.Conformity;
using ProbeRunner.Metrology.Gaps;
using ProbeRunner.Metrology.JointModel;
using ProbeRunner.Metrology.Meshes;
using ProbeRunner.Metrology.Results;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Steps.Capture;

namespace ProbeRunner.Procedures.Steps.FirstLayer;

/// <summary>What a capture and the mesh made from it promise of the gap while a first layer is laid, place by place.</summary>
internal sealed class GapPrediction
{
    private const int LatticeSide = 12;

    private readonly GapModel _model;
    private readonly SurfacePosterior _surface;

    private GapPrediction(GapModel model, SurfacePosterior surface) => (_model, _surface) = (model, surface);

    /// <summary>The prediction; null when the bed was not captured or no mesh was handed over.</summary>
    /// <param name="sigmaMm">The probe's measured scatter; null when it wasn't measured.</param>
    public static GapPrediction? Of(MachineProfile profile, CaptureConclusion? capture, MeshConclusion? mesh, double? sigmaMm)
    {
        if (capture is null || mesh is null || capture.Readings.IsDefaultOrEmpty)
        {
            return null;
        }

        BedPoint home = profile.Travel.HomingPlace;
        Answer<CapturedSurface> surface = CapturedSurface.Of(capture.Readings, CaptureJudgement.Plate(profile), home, sigmaMm is > 0 and var sigma ? Math.Max(sigma, 0.001) : null);
        if (!surface.IsKnown)
        {
            return null;
        }

        MeshNodes nodes = mesh.ReadBack ?? mesh.Wanted;
        var grid = new MeshGrid(nodes.Area.MinX, nodes.Area.MinY, nodes.Area.MaxX, nodes.Area.MaxY, nodes.Columns, nodes.Rows);
        var left = InterpolationResidual.Of(new CorrectionMesh(grid, nodes.Heights), EdgeRule.Clamped, surface.Value.Posterior, home.X, home.Y);
        FirstLayerProfile layer = profile.FirstLayer;
        IGapEffect[] effects = mesh.Change is { } change ? [left, new ChangedBed(change)] : [left];
        return new GapPrediction(new GapModel(layer.HeightMm, Limits.Between(layer.LowestGapMm, layer.HighestGapMm), effects), surface.Value.Posterior);
    }

    /// <summary>How much wider the gap is expected to be at a place than the height laid at, mm, and how sure that is.</summary>
    public (double WiderMm, double UncertaintyMm) At(BedPoint place) =>
        _model.At(place.X, place.Y).Value is var gap ? (gap.ExpectedGapMm - _model.FirstLayerHeightMm, gap.StandardUncertaintyMm) : default;

    /// <summary>
    /// How much wider the gap is expected to be than the height laid at, on average over an area, mm, and how sure that is once patches have shown
    /// what the map leaves open at their own places.
    /// </summary>
    public (double WiderMm, double UncertaintyMm) Over(BedRectangle area, IReadOnlyCollection<BedPoint> shown)
    {
        BedPoint[] all =
        [
            .. Enumerable.Range(0, LatticeSide * LatticeSide).Select(index => new BedPoint(
                area.MinX + ((area.MaxX - area.MinX) * ((index % LatticeSide) + 0.5) / LatticeSide),
                area.MinY + ((area.MaxY - area.MinY) * ((index / LatticeSide) + 0.5) / LatticeSide))),
        ];
        SurfaceEstimate left = _surface.WeightedSum(
            [.. all.Select(place => new WeightedPlace(place.X, place.Y, 1.0 / all.Length)), .. shown.Select(place => new WeightedPlace(place.X, place.Y, -1.0 / shown.Count))]);
        return (all.Average(place => At(place).WiderMm), left.StandardDeviation);
    }

    /// <summary>Places in order of how doubtful a first layer is there.</summary>
    public IEnumerable<BedPoint> WorstFirst(IEnumerable<BedPoint> places) =>
        GapMap.Of(_model, [.. places.Select(place => (place.X, place.Y))]).Value.Places
            .OrderBy(place => place.InsideWindow.Inside)
            .Select(place => new BedPoint(place.XMm, place.YMm));
}
