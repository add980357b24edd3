using System.Collections.Immutable;
using System.Globalization;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Metrology.JointModel;

namespace ProbeRunner.Procedures.Steps.CheckAgain;

/// <summary>
/// An earlier run's capture, against which a bed is checked again. It travels in the script's text, so that the record of the checking run says it whole.
/// </summary>
/// <param name="Run">The run it was taken in.</param>
/// <param name="Readings">Its readings; of many, as many as are needed.</param>
/// <param name="SeriesMm">Heights of that run's series at one place; empty when it had none.</param>
/// <param name="Offset">The probe offset then; null when it wasn't read.</param>
/// <param name="NozzleCelsius">Then; null when it isn't known.</param>
/// <param name="BedCelsius">Then; null when it isn't known.</param>
public sealed record EarlierCapture(
    string Run, ImmutableArray<CaptureReading> Readings, ImmutableArray<double> SeriesMm, ProbeOffset? Offset, double? NozzleCelsius, double? BedCelsius)
{
    private const string PlateKey = "captured_on";

    /// <summary>The plate that lay on the bed; empty when nobody said.</summary>
    public string Plate { get; init; } = string.Empty;

    /// <summary>More readings than this tell a comparison nothing more.</summary>
    private const int MostReadings = 600;

    private const int MostOfSeries = 200;
    private const double LargestMm = 2000;
    private const double LongestSeconds = 1e7;
    private const int NumbersEach = 5;

    /// <summary>Takes over readings of a capture, evenly thinned where there are very many.</summary>
    public static ImmutableArray<CaptureReading> Taken(ImmutableArray<Reading> readings)
    {
        DateTimeOffset first = readings.Min(reading => reading.At);
        int every = (readings.Length + MostReadings - 1) / MostReadings;
        return
        [
            .. readings.Where((_, index) => index % every == 0).Select(reading => new CaptureReading(
                reading.Place.X, reading.Place.Y, Math.Round(reading.Z, 5), Math.Round((reading.At - first).TotalSeconds, 1), reading.DatumEpoch)),
        ];
    }

    /// <summary>The parameters of the step that say it, each as <c>check-again.key=value</c>.</summary>
    public IReadOnlyList<string> Parameters()
    {
        var lines = new List<string>
        {
            $"check-again.against={Run}",
            Line("readings", Readings.Length.ToString(CultureInfo.InvariantCulture)),
            Line("readings_mm", List(Readings.SelectMany(reading => new[] { reading.X, reading.Y, reading.Z, reading.TimeSeconds, reading.Epoch }))),
        };
        if (SeriesMm.Length >= 2)
        {
            ImmutableArray<double> series = SeriesMm.Length > MostOfSeries ? SeriesMm[..MostOfSeries] : SeriesMm;
            lines.Add(Line("series", series.Length.ToString(CultureInfo.InvariantCulture)));
            lines.Add(Line("series_mm", List(series)));
        }

        if (Offset is { } offset)
        {
            lines.Add(Line("offset_mm", List([offset.X, offset.Y, offset.Z])));
        }

        if (NozzleCelsius is { } nozzle && BedCelsius is { } bed)
        {
            lines.Add(Line("heat_celsius", List([nozzle, bed])));
        }

        return Plate.Length > 0 ? [.. lines, Line(PlateKey, Plate)] : lines;
    }

    /// <summary>
    /// Keys: <c>against</c>, a run; <c>readings</c>, how many, and <c>readings_mm</c>, x, y, z, seconds and datum epoch of each; <c>series</c> and <c>series_mm</c>;
    /// <c>offset_mm</c>; <c>heat_celsius</c>, nozzle and bed; <c>captured_on</c>, the plate. Without readings there is nothing to check against: null.
    /// </summary>
    internal static EarlierCapture? Read(TomlSection section)
    {
        string run = section.Text("against", string.Empty);
        int count = section.Whole("readings", 0, MostReadings, 0), touches = section.Whole("series", 0, MostOfSeries, 0);
        ImmutableArray<double> numbers = count > 0 ? section.Numbers("readings_mm", "x, y, z, seconds, epoch of each", count * NumbersEach, -LargestMm, LongestSeconds) : [];
        ImmutableArray<double> series = touches > 0 ? section.Numbers("series_mm", "heights", touches, -LargestMm, LargestMm) : [];
        ImmutableArray<double> offset = section.Numbers("offset_mm", "x, y, z", 3, -LargestMm, LargestMm, otherwise: ImmutableArray<double>.Empty);
        ImmutableArray<double> heat = section.Numbers("heat_celsius", "nozzle, bed", 2, -50, 500, otherwise: ImmutableArray<double>.Empty);
        string plate = section.Text(PlateKey, string.Empty);
        return numbers.Length == count * NumbersEach && count > 0
            ? new EarlierCapture(
                run,
                [.. numbers.Chunk(NumbersEach).Select(each => new CaptureReading(each[0], each[1], each[2], each[3], (int)each[4]))],
                series,
                offset.Length == 3 ? new ProbeOffset(offset[0], offset[1], offset[2]) : null,
                heat.Length == 2 ? heat[0] : null,
                heat.Length == 2 ? heat[1] : null)
            { Plate = plate }
            : null;
    }

    private static string Line(string key, string value) => $"check-again.{key}={value}";

    private static string List(IEnumerable<double> numbers) =>
        $"[{string.Join(", ", numbers.Select(number => number.ToString("0.0####", CultureInfo.InvariantCulture)))}]";
}
