using CsCheck;
using ProbeRunner.Console.Screens.Drawing;

namespace ProbeRunner.Console.Tests.Screens.Drawing;

public sealed class PlotTests
{
    [Fact]
    public void Dots_of_a_cell_come_together_in_one_braille_pattern()
    {
        var canvas = new CellCanvas(2, 1);
        var plot = new Plot(canvas);

        plot.Dot(0, 0, Role.Text);
        plot.Dot(1, 3, Role.Text);
        plot.Draw();

        Assert.Equal("\u2881 \n".TrimEnd(' ', '\n') + "\n", canvas.ToText()); // dots 1 and 8 (ISO 11548-1)
    }

    [Fact]
    public void Lines_of_any_kind_stay_inside() => Gen.Select(Gen.Double, Gen.Double, Gen.Double, Gen.Double).Sample((a, b, c, d) =>
    {
        var canvas = new CellCanvas(7, 3);
        var plot = new Plot(canvas);
        plot.Line(a, b, c, d, Role.Text);
        plot.Draw();
        CanvasAssert.IsSound(canvas);
    });

    [Theory]
    [InlineData(0.0, "")]
    [InlineData(0.001, "▏")]
    [InlineData(0.5, "██")]
    [InlineData(0.53125, "██▏")]
    [InlineData(1.0, "████")]
    [InlineData(double.NaN, "")]
    public void Bars_count_in_eighths(double share, string bar)
    {
        var canvas = new CellCanvas(4, 1);

        Bars.Level(canvas, 0, 0, 4, share, Role.Text);

        Assert.Equal(bar + "\n", canvas.ToText());
    }

    [Fact]
    public void A_field_map_in_ascii_is_ascii()
    {
        var canvas = new CellCanvas(9, 1, isAscii: true);

        HalfBlocks.Paint(canvas, new Ramp(-0.5, 8.5, false), new Palette(ColourDepth.Monochrome, IsAscii: true), (column, _) => column);

        Assert.Equal(".:-=+*#%@\n", canvas.ToText());
    }
}
