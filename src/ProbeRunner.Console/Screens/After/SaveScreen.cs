using ProbeRunner.Console.Screens.Controls;
using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Keys;
using ProbeRunner.Console.Screens.Shell;

namespace ProbeRunner.Console.Screens.After;

/// <summary>Asks for a file's name. An existing file is named as such and needs a second Enter.</summary>
internal sealed class SaveScreen(Desk desk, string suggested, Action<string> save) : Screen
{
    private readonly TextField field = new(suggested, longest: 400);
    private string? warnedOf;

    /// <inheritdoc />
    public override string Title => "Save the report";

    /// <inheritdoc />
    public override string Explanation => "Where the report page is written: one self-contained file for any browser.";

    /// <inheritdoc />
    public override bool IsDialog => true;

    /// <inheritdoc />
    public override bool TakesText => true;

    /// <inheritdoc />
    public override IEnumerable<KeyEntry> Keys => [KeyEntry.Of("save", "Writes the file.", Save, Stroke.Enter)];

    /// <inheritdoc />
    public override bool Type(Stroke stroke) => field.Type(stroke);

    /// <inheritdoc />
    public override void Paste(string text) => field.Insert(text);

    /// <inheritdoc />
    public override void Draw(CellCanvas canvas, Palette palette)
    {
        var room = Box.Centred(canvas, Math.Min(78, canvas.Columns - 2), 5, Title);
        canvas.Write(room.Left, room.Top, "File:", Role.Quiet);
        field.Draw(canvas, new Rect(room.Left, room.Top + 1, room.Columns, 1), hasFocus: true);
    }

    private void Save()
    {
        var path = field.Text.Trim();
        if (path.Length == 0)
        {
            desk.Tell("Type a file's name.", Role.Warning);
        }
        else if (File.Exists(path) && warnedOf != path)
        {
            warnedOf = path;
            desk.Tell($"{path} is there already; Enter again replaces it.", Role.Warning);
        }
        else
        {
            desk.Close(this);
            save(path);
        }
    }
}
