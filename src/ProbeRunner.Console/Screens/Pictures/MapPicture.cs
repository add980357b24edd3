using System.Globalization;
using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Pictures.Bed;
using ProbeRunner.Console.Screens.Pictures.Charts;
using ProbeRunner.Machine.Geometry;

namespace ProbeRunner.Console.Screens.Pictures;

/// <summary>The bed from above, its front edge below, coloured by height or uncertainty, with a scale and a cursor that reads any place.</summary>
internal static class MapPicture
{
    /// <summary>Draws on the whole canvas.</summary>
    public static void Draw(CellCanvas canvas, MapState state, Palette palette)
    {
        bool isUncertainty = state is { Layer: MapLayer.Uncertainty, Uncertainties: not null };
        BedField? field = isUncertainty ? state.Uncertainties : state.Heights;
        var readings = field is null ? state.Readings.Means().Select(mean => (mean.Place, Value: mean.HeightMm - state.Readings.MeanMm)).ToList() : [];
        IEnumerable<double> values = field is null ? readings.Select(reading => reading.Value) : field.Values;
        Ramp ramp = isUncertainty ? Ramp.FromZero(values) : Ramp.AroundZero(values);
        (Rect head, Rect bed, Rect legend, Rect foot) = Areas(canvas.Area);
        if (head.Rows > 0)
        {
            canvas.Write(head.Left, head.Top, CellText.Fit(Head(state, isUncertainty), head.Columns), Ink.Bold(Role.Text));
        }

        BedFrame frame = BedDrawing.Layout(canvas, bed, state.Bed);
        Paint(canvas.Part(frame.Cells), frame, field, readings, ramp, palette);
        BedDrawing.Hatch(canvas, frame, state.Bed);
        DrawMarks(canvas, frame, state, field);
        ColourBar.Draw(canvas, new Rect(Math.Min(legend.Left + 1, frame.Cells.Right + 2), legend.Top, legend.Columns - 1, legend.Rows), ramp, "mm", palette);
        DrawFoot(canvas, foot, state, field, readings);
    }

    /// <summary>The place that is shown at a cell of an area; null when none is.</summary>
    public static BedPoint? PlaceAt(Rect area, MapState state, int column, int row) =>
        BedDrawing.PlaceAt(Areas(new Rect(0, 0, area.Columns, area.Rows)).Bed, state.Bed, column - area.Left, row - area.Top);

    private static (Rect Head, Rect Bed, Rect Legend, Rect Foot) Areas(Rect whole)
    {
        (Rect head, Rect rest) = whole.CutTop(whole.Rows >= 3 ? 1 : 0);
        (rest, Rect foot) = rest.CutBottom(rest.Rows >= 8 ? 2 : rest.Rows >= 5 ? 1 : 0);
        (Rect bed, Rect legend) = rest.CutRight(rest.Columns >= 36 && rest.Rows >= 6 ? ColourBar.Columns : 0);
        return (head, bed, legend, foot);
    }

    private static string Head(MapState state, bool isUncertainty)
    {
        string count = state.Planned is { } planned && planned > state.Readings.Count
            ? string.Create(CultureInfo.InvariantCulture, $"{state.Readings.Count} of {planned} readings")
            : string.Create(CultureInfo.InvariantCulture, $"{state.Readings.Count} {(state.Readings.Count == 1 ? "reading" : "readings")}");
        return isUncertainty ? $"How unsure the map is (standard uncertainty), {count}"
            : state.Heights is null ? $"Heights above the mean so far, {count}"
            : $"Heights above the homing place, {count}";
    }

    private static void Paint(
        CellCanvas plate, BedFrame frame, BedField? field, List<(BedPoint Place, double Value)> readings, Ramp ramp, Palette palette)
    {
        int fields = HalfBlocks.FieldsIn(plate.Rows, palette);
        if (field is not null)
        {
            HalfBlocks.Paint(plate, ramp, palette, (column, row) => field.At(frame.PlaceOf(column, row, fields)));
            return;
        }

        double[,] spread = Spread.Of(readings, frame, fields);
        HalfBlocks.Paint(plate, ramp, palette, (column, row) => spread[column, row]);
    }

    private static void DrawMarks(CellCanvas canvas, BedFrame frame, MapState state, BedField? field)
    {
        if (field is null && state.Readings.Last is { } last)
        {
            BedDrawing.Mark(canvas, frame, last, "◆", new Ink(Role.SelectionText, Role.Selection, Letters.Bold));
        }

        if (state.Cursor is { } cursor)
        {
            BedDrawing.Mark(canvas, frame, cursor, "┼", new Ink(Role.SelectionText, Role.Selection, Letters.Bold));
        }
    }

    private static void DrawFoot(
        CellCanvas canvas, Rect foot, MapState state, BedField? field, List<(BedPoint Place, double Value)> readings)
    {
        if (foot.Rows > 1 && Extremes(field, readings) is var (lowest, highest))
        {
            (string high, string low) = (AtPlace(highest.Place, highest.Value), AtPlace(lowest.Place, lowest.Value));
            string whole = $"▲ highest {high}   ▼ lowest {low}";
            canvas.Write(foot.Left, foot.Top, whole.Length <= foot.Columns ? whole : CellText.Fit($"▲ {high}  ▼ {low}", foot.Columns), Role.Text);
        }

        if (foot.Rows > 0 && state.Cursor is { } cursor)
        {
            canvas.Write(foot.Left, foot.Bottom - 1, CellText.Fit(ReadOut(state, cursor), foot.Columns), Ink.Bold(Role.Accent));
        }
        else if (foot.Rows > 0 && foot.Columns > 40)
        {
            canvas.Write(foot.Left, foot.Bottom - 1, "╱╱ out of the probe's reach   ╳╳ clip", Role.Quiet);
        }
    }

    private static string ReadOut(MapState state, BedPoint cursor)
    {
        string at = $"┼ x {Numbers.Plain(cursor.X, 1)} y {Numbers.Plain(cursor.Y, 1)}: ";
        if (state.Heights is { } heights)
        {
            double height = heights.At(cursor);
            return !double.IsFinite(height)
                ? at + "outside the map"
                : $"{at}{Numbers.Signed(height).Trim()} mm{(state.Uncertainties is { } unsure ? $" ± {Numbers.Plain(unsure.At(cursor))}" : string.Empty)}";
        }

        return state.Readings.Nearest(cursor) is { } nearest
            ? $"{at}nearest reading {AtPlace(nearest.Place, nearest.HeightMm - state.Readings.MeanMm)}"
            : at + "no reading yet";
    }

    private static string AtPlace(BedPoint place, double value) =>
        $"{Numbers.Signed(value).Trim()} at x {Numbers.Plain(place.X, 0)} y {Numbers.Plain(place.Y, 0)}";

    private static ((BedPoint Place, double Value) Lowest, (BedPoint Place, double Value) Highest)? Extremes(
        BedField? field, List<(BedPoint Place, double Value)> readings)
    {
        if (field is not null)
        {
            readings = [.. Enumerable.Range(0, Math.Min(field.Columns * field.Rows, field.Values.Length)).Select(index => (field.PlaceOf(index), field.Values[index]))];
        }

        readings = [.. readings.Where(reading => double.IsFinite(reading.Value))];
        return readings.Count == 0 ? null : (readings.MinBy(reading => reading.Value), readings.MaxBy(reading => reading.Value));
    }
}
