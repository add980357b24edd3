using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Host;

namespace ProbeRunner.Console.Tests.Screens.Host;

public sealed class HostTests
{
    [Theory]
    [InlineData("auto", "xterm-256color", null, null, ColourDepth.True)]
    [InlineData("auto", "xterm", null, null, ColourDepth.Sixteen)]
    [InlineData("auto", "xterm", "truecolor", null, ColourDepth.True)]
    [InlineData("auto", "vt100", null, null, ColourDepth.Monochrome)]
    [InlineData("auto", "xterm-256color", "truecolor", "1", ColourDepth.Monochrome)]
    [InlineData("true", "xterm", null, "1", ColourDepth.True)]
    [InlineData("16", "xterm-256color", "truecolor", null, ColourDepth.Sixteen)]
    [InlineData("never", "xterm-256color", "truecolor", null, ColourDepth.Monochrome)]
    public void Colours_are_what_was_asked_for_and_else_what_the_terminal_says(string asked, string term, string? colorTerm, string? noColour, object depth)
    {
        var environment = new Dictionary<string, string?> { ["TERM"] = term, ["COLORTERM"] = colorTerm, ["NO_COLOR"] = noColour };
        Assert.Equal(depth, ColourPolicy.For(new ScreenOptions(asked), name => environment.GetValueOrDefault(name)).Depth);
    }

    [Fact]
    public void A_light_ground_and_a_locale_without_unicode_are_told_by_the_environment()
    {
        var environment = new Dictionary<string, string?> { ["COLORFGBG"] = "0;15", ["LANG"] = "C" };
        var palette = ColourPolicy.For(new ScreenOptions(), name => environment.GetValueOrDefault(name));
        Assert.False(palette.IsDark);
        Assert.True(palette.IsAscii);
    }

    [Fact]
    public void A_broken_session_restores_the_terminal_once_and_an_orderly_one_writes_nothing()
    {
        var written = new List<string>();
        using (var guard = new TerminalGuard(written.Add))
        {
            guard.Restore();
            guard.Restore();
        }

        Assert.Equal([TerminalGuard.WayOut], written);
        written.Clear();
        using (var guard = new TerminalGuard(written.Add))
        {
            guard.LeftInOrder();
        }

        Assert.Empty(written);
    }

    [Fact]
    public void A_copied_text_can_carry_nothing_but_itself_to_the_terminal() =>
        Assert.Equal("\u001b]52;c;YRtbMzFtYg==\u0007", TerminalHost.ClipboardSequence("a\u001b[31mb"));
}
