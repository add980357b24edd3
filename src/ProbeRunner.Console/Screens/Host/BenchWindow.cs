using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Shell;
using Terminal.Gui.Input;
using Terminal.Gui.ViewBase;
using Terminal.Gui.Views;

namespace ProbeRunner.Console.Screens.Host;

/// <summary>
/// The one view there is: it draws the desk on a sheet of cells and hands the driver only those that differ from what stands there, since
/// the library sends again whatever is written. Keys, pastes and the mouse go to the desk.
/// </summary>
internal sealed class BenchWindow : Runnable
{
    private readonly Desk desk;
    private readonly CellAttributes attributes;
    private CellCanvas canvas = new(0, 0);

    /// <summary>Shows a desk.</summary>
    public BenchWindow(Desk desk)
    {
        this.desk = desk;
        attributes = new CellAttributes(desk.Palette);
        (Width, Height, CanFocus) = (Dim.Fill(), Dim.Fill(), true);
        desk.Changed += SetNeedsDraw;
    }

    /// <inheritdoc />
    protected override bool OnClearingViewport() => true;

    /// <inheritdoc />
    protected override bool OnDrawingContent(DrawContext? context)
    {
        var driver = App?.Driver;
        if (driver?.Contents is not { } there)
        {
            return true;
        }

        var (columns, rows) = (Math.Min(driver.Cols, there.GetLength(1)), Math.Min(driver.Rows, there.GetLength(0)));
        if (canvas.Columns != columns || canvas.Rows != rows)
        {
            canvas = new CellCanvas(columns, rows, desk.Palette.IsAscii);
        }

        DeskPicture.Draw(canvas, desk);
        for (var row = 0; row < rows; row++)
        {
            for (var column = 0; column < columns; column++)
            {
                var wanted = canvas[column, row];
                if (wanted.Grapheme.Length == 0)
                {
                    continue; // the second half of a wide one
                }

                var attribute = attributes.Of(wanted.Ink);
                if (there[row, column].Attribute != attribute || there[row, column].Grapheme != wanted.Grapheme)
                {
                    driver.Move(column, row);
                    driver.SetAttribute(attribute);
                    driver.AddStr(wanted.Grapheme);
                }
            }
        }

        return true;
    }

    /// <inheritdoc />
    protected override bool OnKeyDown(Key key)
    {
        if (Strokes.Of(key) is { } stroke)
        {
            desk.Press(stroke);
        }

        return true; // no key of the library's own does anything here
    }

    /// <inheritdoc />
    protected override bool OnPaste(string text)
    {
        desk.Paste(text);
        return true;
    }

    /// <inheritdoc />
    protected override bool OnMouseEvent(Mouse mouse)
    {
        var room = DeskPicture.Room(canvas.Area);
        var (column, row) = (mouse.ScreenPosition.X - room.Left, mouse.ScreenPosition.Y - room.Top);
        if (mouse.Flags.HasFlag(MouseFlags.WheeledDown) || mouse.Flags.HasFlag(MouseFlags.WheeledUp))
        {
            desk.Front.Wheel(mouse.Flags.HasFlag(MouseFlags.WheeledDown) ? 3 : -3);
            desk.Redraw();
        }
        else if (mouse.Flags.HasFlag(MouseFlags.LeftButtonClicked) && DeskPicture.KeyAt(desk, canvas.Area, mouse.ScreenPosition.X, mouse.ScreenPosition.Y) is { } key)
        {
            desk.Press(key);
        }
        else if (mouse.Flags.HasFlag(MouseFlags.LeftButtonClicked) && row >= 0 && row < room.Rows)
        {
            desk.Front.Click(column, row);
            desk.Redraw();
        }

        return true;
    }

    /// <inheritdoc />
    protected override void Dispose(bool disposing)
    {
        desk.Changed -= SetNeedsDraw;
        base.Dispose(disposing);
    }
}
