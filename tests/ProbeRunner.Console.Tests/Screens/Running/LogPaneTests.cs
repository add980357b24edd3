using ProbeRunner.Console.Screens.Controls;
using ProbeRunner.Console.Screens.Drawing;

namespace ProbeRunner.Console.Tests.Screens.Running;

public sealed class LogPaneTests
{
    [Fact]
    public void A_log_follows_its_end_until_it_is_scrolled_then_stands_still_and_counts_what_is_new()
    {
        var pane = new LogPane();
        Assert.Contains("line 20", Drawn(pane, Lines(1, 20)), StringComparison.Ordinal);
        pane.Move(-5, Lines(1, 20));
        var still = Drawn(pane, Lines(1, 20));
        Assert.DoesNotContain("line 20", still, StringComparison.Ordinal);
        Assert.Contains("+5 newer", still, StringComparison.Ordinal);
        Assert.Contains("+15 newer", Drawn(pane, Lines(1, 30)), StringComparison.Ordinal);
        pane.Move(int.MaxValue, Lines(1, 30));
        Assert.Contains("line 30", Drawn(pane, Lines(1, 30)), StringComparison.Ordinal);
    }

    [Fact]
    public void A_scrolled_log_keeps_its_place_while_old_lines_fall_out()
    {
        var pane = new LogPane();
        pane.Move(-5, Lines(1, 20));
        Assert.Contains("line 15", Drawn(pane, Lines(8, 27)), StringComparison.Ordinal);
    }

    private static List<LogLine> Lines(int first, int last) =>
        [.. Enumerable.Range(first, last - first + 1).Select(number => new LogLine(number, "0:00", $"line {number}", Role.Text))];

    private static string Drawn(LogPane pane, List<LogLine> lines)
    {
        var canvas = new CellCanvas(60, 6);
        pane.Draw(canvas, canvas.Area, lines);
        return canvas.ToText();
    }
}
