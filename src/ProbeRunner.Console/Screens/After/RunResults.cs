using System.Collections.Immutable;
using ProbeRunner.Console.Screens.Pictures;
using ProbeRunner.Console.Screens.Pictures.Bed;
using ProbeRunner.Console.Wiring;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Metrology.Conformity;
using ProbeRunner.Metrology.Gaps;
using ProbeRunner.Metrology.JointModel;
using ProbeRunner.Metrology.Meshes;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Records.Runs;

namespace ProbeRunner.Console.Screens.After;

/// <summary>What a recorded run came to, laid out for the screens.</summary>
/// <param name="Record">The run.</param>
/// <param name="Profile">Its machine as it was described then; null when this version can't read that.</param>
/// <param name="Findings">Every finding, once each.</param>
/// <param name="Map">The captured bed; null when it captured none.</param>
/// <param name="Gap">What a first layer will see; null when the run can't tell.</param>
internal sealed record RunResults(RunRecord Record, MachineProfile? Profile, ImmutableArray<Finding> Findings, MapState? Map, GapState? Gap)
{
    /// <summary>Lays a run out.</summary>
    public static RunResults Of(RunRecord record)
    {
        var profile = ProfileOf(record);
        ImmutableArray<Finding> findings =
        [
            .. record.Steps.SelectMany(step => step.Conclusion?.Findings ?? []).GroupBy(finding => (finding.Id, finding.Where)).Select(same => same.Last()),
        ];
        var capture = record.Conclusion<CaptureConclusion>();
        return profile is null || capture is null
            ? new RunResults(record, profile, findings, null, null)
            : new RunResults(record, profile, findings, MapOf(profile, capture), GapOf(record, profile, capture));
    }

    private static MachineProfile? ProfileOf(RunRecord record)
    {
        try
        {
            return RunFiles.OfRecordedRun(record.Header).Profile;
        }
        catch (FileFaultException)
        {
            return null;
        }
    }

    private static MapState MapOf(MachineProfile profile, CaptureConclusion capture)
    {
        var bed = BedOutline.Of(profile);
        var readings = ReadingRaster.Over(bed.WidthMm, bed.DepthMm);
        foreach (var reading in capture.Readings)
        {
            readings = readings.With(reading.Place, reading.Z);
        }

        return new MapState(bed, readings, BedField.HeightsOf(capture.Map), BedField.UncertaintiesOf(capture.Map), MapLayer.Height, null, capture.Readings.Length);
    }

    /// <summary>
    /// The gap is the first layer's height, plus what the mesh leaves of the bed's shape there, with the uncertainties of offset and map;
    /// without a mesh the whole shape is left.
    /// </summary>
    private static GapState? GapOf(RunRecord record, MachineProfile profile, CaptureConclusion capture)
    {
        var heights = BedField.HeightsOf(capture.Map);
        var doubts = BedField.UncertaintiesOf(capture.Map);
        var effects = new List<IGapEffect> { new InterpolationResidual(MeshOver(record, profile), (x, y) => new SurfaceEstimate(heights.At(new BedPoint(x, y)), doubts.At(new BedPoint(x, y)))) };
        if (record.Conclusion<StepDownConclusion>() is { } offset)
        {
            effects.Add(EvenEffect.ZOffset(offset.StandardUncertaintyMm));
        }

        var layer = profile.FirstLayer;
        var model = new GapModel(layer.HeightMm, new Limits(layer.LowestGapMm, layer.HighestGapMm), effects);
        var places = Enumerable.Range(0, heights.Columns * heights.Rows).Select(heights.PlaceOf).Select(place => (place.X, place.Y)).ToList();
        return GapMap.Of(model, places) is { Refusal: null, Value: var map }
            ? new GapState(
                BedOutline.Of(profile),
                heights with { Values = [.. map.Places.Select(place => place.ExpectedGapMm)] },
                heights with { Values = [.. map.Places.Select(place => place.InsideWindow.Inside)] },
                layer.HeightMm,
                layer.LowestGapMm,
                layer.HighestGapMm,
                null)
            : null;
    }

    private static Func<double, double, double> MeshOver(RunRecord record, MachineProfile profile)
    {
        if (record.Conclusion<MeshConclusion>() is not { } mesh)
        {
            return (_, _) => 0;
        }

        MeshNodes nodes = mesh.ReadBack ?? mesh.Wanted;
        var correction = new CorrectionMesh(
            new MeshGrid(nodes.Area.MinX, nodes.Area.MinY, nodes.Area.MaxX, nodes.Area.MaxY, nodes.Columns, nodes.Rows), nodes.Heights);
        var home = profile.Travel.HomingPlace;
        var zero = correction.HeightAt(home.X, home.Y, EdgeRule.Clamped);
        return (x, y) => correction.HeightAt(x, y, EdgeRule.Clamped) - zero;
    }
}
