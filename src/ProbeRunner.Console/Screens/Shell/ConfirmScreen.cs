using ProbeRunner.Console.Screens.Controls;
using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Keys;

namespace ProbeRunner.Console.Screens.Shell;

/// <summary>Asks before something that heats, moves or stores, naming its effect. Enter is the safe answer.</summary>
/// <param name="desk">The desk it lies on.</param>
/// <param name="title">What is about to happen.</param>
/// <param name="effect">What it does, in sentences.</param>
/// <param name="word">The word for doing it.</param>
/// <param name="key">The key for doing it; a letter that is not Enter.</param>
/// <param name="act">Does it.</param>
internal sealed class ConfirmScreen(Desk desk, string title, string effect, string word, char key, Action act) : Screen
{
    private Rect yes;
    private Rect no;

    /// <inheritdoc />
    public override string Title => title;

    /// <inheritdoc />
    public override string Explanation => effect;

    /// <inheritdoc />
    public override bool IsDialog => true;

    /// <inheritdoc />
    public override IEnumerable<KeyEntry> Keys =>
    [
        KeyEntry.Of(word, $"Yes: {word}.", Go, key),
        KeyEntry.Of("leave it", "No; nothing happens.", desk.Back, Stroke.Enter, 'n'),
    ];

    /// <inheritdoc />
    public override void Draw(CellCanvas canvas, Palette palette)
    {
        var columns = Math.Min(72, canvas.Columns - 4);
        var page = new Page(columns - 4);
        page.Paragraphs(effect, Role.Text);
        var room = Box.Centred(canvas, columns, page.Rows + 5, title);
        page.Draw(canvas, new Rect(room.Left, room.Top + 1, room.Columns, room.Rows - 2), new ScrollPosition());
        var row = room.Bottom - 1;
        var column = canvas.Write(room.Left, row, $" {key} ", new Ink(Role.SelectionText, Role.Selection, Letters.Bold));
        column = canvas.Write(column + 1, room.Bottom - 1, word, Ink.Bold(Role.Text)) + 4;
        yes = new Rect(room.Left, row, column - 4 - room.Left, 1);
        column = canvas.Write(column, room.Bottom - 1, " Enter ", new Ink(Role.SelectionText, Role.Selection, Letters.Bold));
        no = new Rect(yes.Right + 4, row, canvas.Write(column + 1, row, "leave it", Role.Text) - yes.Right - 4, 1);
    }

    /// <inheritdoc />
    public override void Click(int column, int row)
    {
        if (yes.Contains(column, row))
        {
            Go();
        }
        else if (no.Contains(column, row))
        {
            desk.Back();
        }
    }

    private void Go()
    {
        desk.Close(this);
        act();
    }
}
