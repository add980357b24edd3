using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Running;
using ProbeRunner.Procedures.Events;
using ProbeRunner.Procedures.Operators;

namespace ProbeRunner.Console.Tests.Screens.Whole;

/// <summary>Text of a device or file is shown, never obeyed.</summary>
[Collection(TerminalTests.Name)]
public sealed class HostileTextTests
{
    private const string Hostile = "\u001b[2J\u001b[31m\u001b]0;owned\u0007\u009b31mred\r\n\u202eback\u0000";

    [Fact]
    public void Device_text_can_neither_move_the_cursor_nor_colour_the_screen()
    {
        var desk = TestTerminal.Desk(new Palette(ColourDepth.True));
        var run = ScreenSamples.Running("series");
        run.Tell(new Remarked(TimeSpan.FromSeconds(66), "series", Hostile), new Warned(TimeSpan.FromSeconds(67), "series", Hostile));
        run.Ask(new Prompt("x.y", PromptKind.Choice, "Look: " + Hostile, Hostile, [new Choice("no", Hostile), new Choice("yes", Hostile)]), Hostile);
        desk.Open(new RunScreen(desk, run, () => { }));
        desk.Tell(Hostile);
        using var terminal = new TestTerminal(desk);
        Assert.Contains("\\u{1B}[2J", terminal.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("\u001b[2J", terminal.Ansi, StringComparison.Ordinal);
        Assert.DoesNotContain("\u001b]0;", terminal.Ansi, StringComparison.Ordinal);
        Assert.DoesNotContain('\u009b', terminal.Ansi);
        Assert.DoesNotContain('\u202e', terminal.Ansi);
        Assert.Equal(24, terminal.Text.TrimEnd().Split('\n').Length);
    }
}
