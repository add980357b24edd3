using ProbeRunner.Console.Screens.Controls;
using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Keys;
using ProbeRunner.Console.Screens.Shell;

namespace ProbeRunner.Console.Screens.Guide;

/// <summary>The guided first visit: a few pages, then a short run on the simulated printer with a hint at every turn.</summary>
internal sealed class FirstVisitScreen(Desk desk, Action begin) : Screen
{
    private static readonly (string Title, string Text)[] Leaves =
    [
        ("What this is",
            "A bed probe tells a printer how high its bed is. Whether the first layer then sticks depends on things nobody sees: does the probe repeat, how far below its trigger does the nozzle touch, what shape is the bed, is the controller's small mesh good enough for it.\n"
            + "ProbeRunner measures these one after the other, says with numbers what is good and what is not, why, and what to do next. You are its hands and eyes."),
        ("What can hurt",
            "The nozzle burns, the axes pinch, the machine is on mains. Three keys stop it, on every screen: F5 holds, F7 stops, F9 halts at once. They are always written in the last line.\n"
            + "No key replaces the mains switch: it is the emergency stop, and it must be in your reach. Never leave a heated machine alone. The maker's instructions and your local rules come first."),
        ("How a run goes",
            "A run is a list of steps. Before anything moves you are asked to take paper and hands out. Every reading is written down before the next command is sent, so that a power cut loses nothing: a run that was cut off is taken up again where it stopped.\n"
            + "Questions come with their answers numbered; the safe one is first. The key w says why you are asked, s says why a step is done and what good looks like, ? explains wherever you are."),
        ("Try it",
            "Enter begins a short run on the simulated printer: is its probe to be trusted? Nothing real moves. What your hands would feel and your eyes see there is marked at the answers, so Enter is a sensible answer each time; or type a to let the simulated person answer while you watch.\n"
            + "Try F5 to hold and F5 again to go on. Try t for the wire, m for the messages, Esc to come back."),
    ];

    private int at;

    /// <inheritdoc />
    public override string Title => "First visit";

    /// <inheritdoc />
    public override string Explanation => "Four short pages, then a run on the simulated printer, where nothing real moves. About ten minutes.";

    /// <inheritdoc />
    public override IEnumerable<KeyEntry> Keys =>
    [
        KeyEntry.Of(at < Leaves.Length - 1 ? "next" : "begin the run", "Goes on.", Next, Stroke.Enter, ' '),
        KeyEntry.LeftRight("turn", "Turns the pages.", by => at = Math.Clamp(at + by, 0, Leaves.Length - 1)),
    ];

    /// <inheritdoc />
    public override void Draw(CellCanvas canvas, Palette palette)
    {
        var width = Math.Min(78, canvas.Columns - 8);
        var page = new Page(width);
        page.Line(FormattableString.Invariant($"{at + 1} of {Leaves.Length}   {Leaves[at].Title}"), Ink.Bold(Role.Accent));
        page.Gap();
        page.Paragraphs(Leaves[at].Text, Role.Text);
        page.Gap();
        page.Line(at < Leaves.Length - 1 ? "Enter: next page" : "Enter: begin the run on the simulated printer", Ink.Bold(Role.Key));
        page.Draw(canvas, new Rect((canvas.Columns - width) / 2, 2, width, canvas.Rows - 3), new ScrollPosition());
    }

    private void Next()
    {
        if (at < Leaves.Length - 1)
        {
            at++;
            return;
        }

        desk.Close(this);
        begin();
    }
}
