using ProbeRunner.Console.Screens.Drawing;

namespace ProbeRunner.Console.Tests.Screens.Whole;

/// <summary>Every screen and state on the library's test driver, as text in the tree at both sizes, so that a change is seen when it is reviewed.</summary>
[Collection(TerminalTests.Name)]
public sealed class ScreenCaptureTests
{
    private const string RefreshSwitch = "PROBERUNNER_REFRESH_CAPTURES";
    private static readonly (int Columns, int Rows)[] SmallSizes = [(79, 24), (80, 23), (40, 10), (20, 4)];

    public static TheoryData<string> Names => [.. ScreenSamples.All.Keys];

    [Theory]
    [MemberData(nameof(Names))]
    public void The_screen_looks_as_it_was_reviewed(string name) =>
        Reviewed(name, string.Join('\n', $"{name}, 80 x 24", Drawn(name, 80, 24), $"{name}, 120 x 36", Drawn(name, 120, 36)));

    /// <summary>Below the least size nothing but the message and the line of the three keys is drawn, whatever is on the desk.</summary>
    [Fact]
    public void A_terminal_that_is_too_small_is_told_so() => Reviewed("too-small", string.Join('\n', SmallSizes.Select(size => $"{size.Columns} x {size.Rows}\n{Drawn("run-series", size.Columns, size.Rows)}")));

    [Theory]
    [MemberData(nameof(Names))]
    public void The_mains_switch_and_the_three_keys_are_always_shown(string name)
    {
        foreach (var (columns, rows) in new[] { (80, 24), (120, 36), (60, 20) })
        {
            var last = Drawn(name, columns, rows).TrimEnd().Split('\n')[^1];
            Assert.Contains("F7 stop", last, StringComparison.Ordinal);
            Assert.Contains("F9 HALT", last, StringComparison.Ordinal);
            Assert.Contains("mains switch", last, StringComparison.Ordinal);
        }
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Any_size_and_any_palette_can_be_drawn(string name)
    {
        var desk = TestTerminal.Desk(new Palette(ColourDepth.Sixteen, IsDark: false, IsAscii: true));
        ScreenSamples.All[name](desk);
        using var terminal = new TestTerminal(desk);
        foreach (var (columns, rows) in new[] { (1, 1), (79, 24), (80, 23), (200, 60), (80, 24), (300, 10) })
        {
            terminal.Resize(columns, rows);
            Assert.DoesNotContain('\u2026', terminal.Text);
        }
    }

    private static string Drawn(string name, int columns, int rows)
    {
        var desk = TestTerminal.Desk();
        ScreenSamples.All[name](desk);
        using var terminal = new TestTerminal(desk, columns, rows);
        return terminal.Text;
    }

    private static void Reviewed(string name, string drawn)
    {
        var path = Path.Combine(CaptureFolder.Of("Whole"), name + ".txt");
        if (Environment.GetEnvironmentVariable(RefreshSwitch) == "1")
        {
            Directory.CreateDirectory(CaptureFolder.Of("Whole"));
            File.WriteAllText(path, drawn);
        }

        Assert.True(File.Exists(path), $"There is no capture of {name}; make it with {RefreshSwitch}=1 and look at it.");
        Assert.Equal(File.ReadAllText(path), drawn);
    }
}
