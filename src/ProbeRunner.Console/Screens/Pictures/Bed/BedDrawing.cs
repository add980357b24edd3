using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Machine.Geometry;

namespace ProbeRunner.Console.Screens.Pictures.Bed;

/// <summary>The parts that all pictures of a bed share.</summary>
internal static class BedDrawing
{
    private const int AxisColumns = 4;

    /// <summary>
    /// Lays a plate out in an area: frame, ticks in mm where there is room, and the word that says which edge is the front.
    /// </summary>
    /// <returns>Where the plate's places are.</returns>
    public static BedFrame Layout(CellCanvas canvas, Rect area, BedOutline bed)
    {
        (BedFrame frame, bool hasTicks, bool hasFrame) = Plate(area, bed);
        canvas.Fill(frame.Cells, new Ink(Role.Text, Role.Plate));
        if (hasFrame)
        {
            DrawFrame(canvas, frame.Cells);
        }

        if (hasTicks)
        {
            DrawTicks(canvas, frame);
        }

        return frame;
    }

    /// <summary>The place of the plate at a cell of an area it is laid out in; null beside the plate.</summary>
    public static BedPoint? PlaceAt(Rect area, BedOutline bed, int column, int row)
    {
        BedFrame frame = Plate(area, bed).Frame;
        return frame.Cells.Contains(column, row) ? new BedPoint(frame.X(column), frame.Y(row)) : null;
    }

    /// <summary>Hatches what cannot be reached and marks the clips, over whatever is there.</summary>
    public static void Hatch(CellCanvas canvas, BedFrame frame, BedOutline bed)
    {
        foreach (BedRectangle strip in bed.Unreachable)
        {
            Fill(canvas, frame, strip, "╱");
        }

        foreach (BedRectangle clip in bed.Clips)
        {
            canvas.Fill(frame.CellsOf(clip), new Ink(Role.Hatch, Role.Plate, Letters.Bold), "╳");
        }
    }

    /// <summary>A mark at a place, over whatever ground there is; off the plate it is not drawn.</summary>
    public static void Mark(CellCanvas canvas, BedFrame frame, BedPoint place, string mark, Ink ink)
    {
        (int column, int row) = (frame.Column(place.X), frame.Row(place.Y));
        if (frame.Cells.Contains(column, row))
        {
            canvas.Put(column, row, mark, ink);
        }
    }

    private static (BedFrame Frame, bool HasTicks, bool HasFrame) Plate(Rect area, BedOutline bed)
    {
        bool hasTicks = area.Columns >= 34 && area.Rows >= 9;
        bool hasFrame = area.Columns >= 8 && area.Rows >= 5;
        Rect inner = hasTicks ? area.CutLeft(AxisColumns).Remainder : area;
        inner = hasTicks ? inner.CutBottom(1).Remainder : inner;
        return (BedFrame.Fit(hasFrame ? inner.Inset(1, 1) : inner, bed.WidthMm, bed.DepthMm), hasTicks, hasFrame);
    }

    private static void Fill(CellCanvas canvas, BedFrame frame, BedRectangle strip, string mark)
    {
        // Only cells whose middle lies in the strip: a narrow margin must not look like a wide one.
        for (int row = frame.Cells.Top; row < frame.Cells.Bottom; row++)
        {
            for (int column = frame.Cells.Left; column < frame.Cells.Right; column++)
            {
                if (strip.Contains(new BedPoint(frame.X(column), frame.Y(row))))
                {
                    canvas.Put(column, row, mark, new Ink(Role.Hatch, Role.Plate));
                }
            }
        }
    }

    private static void DrawFrame(CellCanvas canvas, Rect plate)
    {
        Rect around = plate.Inset(-1, -1);
        Frames.Box(canvas, around, string.Empty, Role.Frame, Role.Axis);
        if (around.Columns >= 11)
        {
            canvas.WriteCentred(around, around.Bottom - 1, " front ", Role.Axis);
        }
    }

    private static void DrawTicks(CellCanvas canvas, BedFrame frame)
    {
        foreach ((double y, string text) in new Scale(0, frame.DepthMm).Ticks(Math.Max(2, frame.Cells.Rows / 4)))
        {
            canvas.WriteLeftOf(frame.Cells.Left - 1, Math.Clamp(frame.Row(y), frame.Cells.Top, frame.Cells.Bottom), text, Role.Axis);
        }

        int free = frame.Cells.Left - 1;
        foreach ((double x, string text) in new Scale(0, frame.WidthMm).Ticks(Math.Max(2, frame.Cells.Columns / 10)))
        {
            int at = frame.Column(x) - (text.Length / 2);
            if (at >= free)
            {
                free = canvas.Write(at, frame.Cells.Bottom + 1, text, Role.Axis) + 1;
            }
        }
    }
}
