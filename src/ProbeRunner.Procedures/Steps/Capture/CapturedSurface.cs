using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Metrology.JointModel;
using ProbeRunner.Metrology.Planes;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Procedures.Steps.Capture;

/// <summary>The joint model of a capture, and readings with their epoch's offset and the drift taken off.</summary>
internal sealed class CapturedSurface
{
    private readonly BedPoint _place;
    private readonly double _home;
    private readonly Dictionary<int, double> _epochs;
    private readonly DateTimeOffset _first;

    private CapturedSurface(SurfacePosterior posterior, BedPoint home, DateTimeOffset first)
    {
        (Posterior, _place, _first) = (posterior, home, first);
        _home = posterior.Predict(home.X, home.Y).Mean;
        _epochs = posterior.EpochOffsets.ToDictionary(epoch => epoch.Epoch, epoch => epoch.Offset.Mean);
    }

    /// <summary>The model itself, heights not relative to the homing place.</summary>
    public SurfacePosterior Posterior { get; }

    /// <summary>Fits the model.</summary>
    /// <param name="readings">Readings that count.</param>
    /// <param name="plate">The whole plate, over which the map is wanted.</param>
    /// <param name="home">The homing place, where heights are 0.</param>
    /// <param name="repeatabilityMm">The scatter of one of these readings; null when it wasn't measured.</param>
    public static Answer<CapturedSurface> Of(ImmutableArray<Reading> readings, Box plate, BedPoint home, double? repeatabilityMm)
    {
        DateTimeOffset first = readings.Min(reading => reading.At);
        var options = new SurfaceModelOptions { Bed = plate, RepeatabilityMm = repeatabilityMm };
        return SurfaceModel.Fit([.. readings.Select(reading => ForModel(reading, first))], options)
            .Then<CapturedSurface>(posterior => new CapturedSurface(posterior, home, first));
    }

    /// <summary>A reading as the model takes it, its time since the capture's first.</summary>
    public static CaptureReading ForModel(Reading reading, DateTimeOffset first) =>
        new(reading.Place.X, reading.Place.Y, reading.Z, (reading.At - first).TotalSeconds, reading.DatumEpoch);

    /// <summary>Height at a place, relative to the homing place, mm.</summary>
    public double HeightAt(double x, double y) => Posterior.Predict(x, y).Mean - _home;

    /// <summary>The map over an area, heights and their uncertainties relative to the homing place.</summary>
    public UncertainMap Map(Box area, int columns, int rows) => Posterior.PredictMapFrom(
        Metrology.Meshes.SurfaceMap.Evenly(area.MinX, area.MaxX, columns), Metrology.Meshes.SurfaceMap.Evenly(area.MinY, area.MaxY, rows), (_place.X, _place.Y));

    /// <summary>Readings as points of one surface, relative to the homing place.</summary>
    public List<SurfacePoint> Points(ImmutableArray<Reading> readings) =>
    [
        .. readings.Select(reading => new SurfacePoint(
            reading.Place.X,
            reading.Place.Y,
            reading.Z - _epochs.GetValueOrDefault(reading.DatumEpoch) - Posterior.Drift((reading.At - _first).TotalSeconds).Mean - _home)),
    ];
}
