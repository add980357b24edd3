using ProbeRunner.Console.Screens.Controls;
using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Keys;

namespace ProbeRunner.Console.Screens.Shell;

/// <summary>Explains the place it was asked from: what it is, every key, and the three grades of stopping.</summary>
internal sealed class HelpScreen : Screen
{
    private readonly string explanation;
    private readonly List<KeyEntry> entries;
    private readonly ScrollPosition scroll = new();

    /// <summary>Explains the desk's front screen.</summary>
    public HelpScreen(Desk desk)
    {
        Title = $"Help: {desk.Front.Title}";
        explanation = desk.Front.Explanation;
        entries = [.. desk.Keys];
    }

    /// <inheritdoc />
    public override string Title { get; }

    /// <inheritdoc />
    public override string Explanation => explanation;

    /// <inheritdoc />
    public override IEnumerable<KeyEntry> Keys => [KeyEntry.UpDown("scroll", "Scrolls the page.", scroll.Move)];

    /// <inheritdoc />
    public override void Draw(CellCanvas canvas, Palette palette)
    {
        var width = Math.Min(canvas.Columns - 6, 100);
        var page = new Page(width);
        page.Paragraphs(explanation, Role.Text);
        page.Gap();
        page.Line("Keys here", Ink.Bold(Role.Accent));
        foreach (var entry in entries)
        {
            page.Entry(KeysOf(entry), entry.Meaning + (entry.WhyNot is { } why ? $" Not now: {why}" : string.Empty));
        }

        page.Gap();
        page.Line("Everywhere, in text fields and dialogs too", Ink.Bold(Role.Accent));
        page.Entry("F5  Ctrl-P", "Holds: the motion in hand is finished, then the nozzle lifts and the probe is retracted. Again goes on, after hands are clear.");
        page.Entry("F7  Ctrl-C", "Stops: the motion in hand is finished, then lift, park, heaters off, end of the run. It can be resumed. Ctrl-C again within 3 s halts.");
        page.Entry("F9  Ctrl-\\", "Halts at once, past everything: motors and heaters are cut, the nozzle may sink, the position is lost. A busy controller may be late.");
        page.Paragraphs("If anything still moves or heats that should not: the mains switch is the emergency stop. Keep it in reach.", Role.Warning);
        page.Draw(canvas, new Rect(3, 1, width, canvas.Rows - 2), scroll);
    }

    /// <inheritdoc />
    public override void Wheel(int rows) => scroll.Move(rows);

    private static string KeysOf(KeyEntry entry) => entry.Strokes is [{ Name: [>= '1' and <= '9'] }, _, _, ..]
        ? $"{entry.Strokes[0].Label} to {entry.Strokes[^1].Label}"
        : entry.Strokes.Length > 2 && entry.Strokes.All(stroke => stroke.Name is [>= '1' and <= '9'])
        ? $"{entry.Strokes[0].Label} to {entry.Strokes[^1].Label}"
        : string.Join(" ", entry.Strokes.Take(4).Select(stroke => stroke.Label));
}
