using ProbeRunner.Console.Screens.Pictures;
using ProbeRunner.Console.Screens.Pictures.Bed;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Events;

namespace ProbeRunner.Console.Screens.Watching;

/// <summary>The picture of a capture while it grows.</summary>
internal static class MapWatch
{
    /// <summary>After an event.</summary>
    public static MapState After(MapState state, RunEvent told) => told switch
    {
        ReadingTaken e => state with { Readings = state.Readings.With(e.Reading.Place, e.Reading.Z), Planned = e.Planned },
        ReadingRecalled e => state with { Readings = state.Readings.With(e.Reading.Place, e.Reading.Z) },
        _ => state,
    };

    /// <summary>Once it is concluded: the surface with its uncertainty.</summary>
    public static MapState Concluded(MapState state, CaptureConclusion capture)
    {
        ReadingRaster readings = state.Readings;
        if (readings.Count == 0)
        {
            readings = capture.Readings.Aggregate(readings, (raster, reading) => raster.With(reading.Place, reading.Z));
        }

        return state with { Readings = readings, Planned = null, Heights = BedField.HeightsOf(capture.Map), Uncertainties = BedField.UncertaintiesOf(capture.Map) };
    }
}
