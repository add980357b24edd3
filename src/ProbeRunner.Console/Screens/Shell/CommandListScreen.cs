using ProbeRunner.Console.Screens.Controls;
using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Keys;

namespace ProbeRunner.Console.Screens.Shell;

/// <summary>Everything that can be done at the place it was opened from, to be searched by typing.</summary>
internal sealed class CommandListScreen : Screen
{
    private const int MeaningRows = 2;

    /// <summary>Where a meaning that is too long for its line ends; the whole one stands below the list.</summary>
    private static readonly char[] FirstStops = [',', ';', ':'];

    private readonly Desk desk;
    private readonly List<KeyEntry> commands;
    private readonly TextField search = new();
    private readonly ListCursor cursor = new();
    private Rect listRoom;

    /// <summary>Lists the commands of the desk's front screen.</summary>
    public CommandListScreen(Desk desk)
    {
        this.desk = desk;
        commands = [.. desk.Keys.Where(entry => entry.IsCommand)];
    }

    /// <inheritdoc />
    public override string Title => "Commands";

    /// <inheritdoc />
    public override string Explanation => "Type a part of what you want to do; Enter does the chosen one. A command that can't be done now says why.";

    /// <inheritdoc />
    public override bool IsDialog => true;

    /// <inheritdoc />
    public override bool TakesText => true;

    /// <inheritdoc />
    public override IEnumerable<KeyEntry> Keys =>
    [
        KeyEntry.Of("do it", "Does the chosen command.", Choose, Stroke.Enter),
        KeyEntry.UpDown("choose", "Chooses a command.", by => cursor.Move(by, Found.Count)),
    ];

    private List<KeyEntry> Found =>
    [
        .. commands.Where(entry => search.Text.Split(' ', StringSplitOptions.RemoveEmptyEntries)
            .All(word => (entry.Label + " " + entry.Meaning).Contains(word, StringComparison.CurrentCultureIgnoreCase))),
    ];

    /// <inheritdoc />
    public override bool Type(Stroke stroke) => stroke.Name is not ("home" or "end") && search.Type(stroke);

    /// <inheritdoc />
    public override void Paste(string text) => search.Insert(text);

    /// <inheritdoc />
    public override void Draw(CellCanvas canvas, Palette palette)
    {
        var found = Found;
        var rows = Math.Min(commands.Count + 5 + MeaningRows, canvas.Rows - 2);
        var box = Box.Centred(canvas, Math.Min(76, canvas.Columns - 4), rows, "What do you want to do?");
        search.Draw(canvas, new Rect(box.Left, box.Top, box.Columns, 1), hasFocus: true);
        var (list, meaning) = new Rect(box.Left, box.Top + 2, box.Columns, box.Rows - 2).CutBottom(box.Rows >= 8 + MeaningRows ? MeaningRows : 0);
        listRoom = list;
        if (found.Count == 0)
        {
            canvas.Write(list.Left, list.Top, "Nothing here is called that. Clear it with Ctrl-U.", Role.Quiet);
        }

        cursor.Draw(canvas, list, found.Count, hasFocus: true, (sheet, line, item, isChosen) =>
        {
            var entry = found[item];
            var text = Ink.Over(entry.WhyNot is null ? (isChosen ? Role.SelectionText : Role.Text) : Role.Quiet);
            sheet.Write(line.Left, line.Top, CellText.Pad(entry.KeysShown, 9), Ink.Over(isChosen ? Role.SelectionText : Role.Key, Letters.Bold));
            sheet.Write(line.Left + 10, line.Top, CellText.FirstThatFits(line.Columns - 10, entry.Meaning, entry.Meaning.Split(FirstStops)[0], entry.Label), text);
        });
        if (found.ElementAtOrDefault(cursor.At) is { } chosen)
        {
            var page = new Page(meaning.Columns);
            page.Paragraphs(chosen.WhyNot ?? chosen.Meaning, chosen.WhyNot is null ? Role.Accent : Role.Warning);
            page.Draw(canvas, meaning, new ScrollPosition());
        }
    }

    /// <inheritdoc />
    public override void Click(int column, int row)
    {
        var item = cursor.ItemAt(row - listRoom.Top);
        if (!listRoom.Contains(column, row) || item >= Found.Count)
        {
            return;
        }

        if (item == cursor.At)
        {
            Choose();
        }

        cursor.Set(item, Found.Count);
    }

    /// <inheritdoc />
    public override void Wheel(int rows) => cursor.Move(Math.Sign(rows), Found.Count);

    private void Choose()
    {
        if (Found.ElementAtOrDefault(cursor.At) is { } entry)
        {
            desk.Close(this);
            desk.Do(entry, entry.Strokes[0]);
        }
    }
}
