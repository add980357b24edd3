using System.Globalization;
using CsCheck;
using ProbeRunner.Console.Screens.Drawing;

namespace ProbeRunner.Console.Tests.Screens.Drawing;

public sealed class CellCanvasTests
{
    [Fact]
    public void Text_stands_where_it_was_written()
    {
        var canvas = new CellCanvas(8, 2);

        int after = canvas.Write(1, 1, "gap", Role.Good);

        Assert.Equal(4, after);
        Assert.Equal("\n gap\n", canvas.ToText());
        Assert.Equal(new Cell("a", Role.Good), canvas[2, 1]);
    }

    [Fact]
    public void A_wide_grapheme_takes_two_cells_and_goes_whole_when_half_of_it_is_overwritten()
    {
        var canvas = new CellCanvas(6, 1);
        canvas.Write(0, 0, "床x", Role.Text);
        Assert.Equal("床x\n", canvas.ToText());
        Assert.Equal("", canvas[1, 0].Grapheme);

        canvas.Put(1, 0, "y", Role.Text);

        Assert.Equal(" yx\n", canvas.ToText());
    }

    [Fact]
    public void A_wide_grapheme_that_would_stand_half_outside_is_left_out()
    {
        var canvas = new CellCanvas(3, 1);

        canvas.Write(2, 0, "床", Role.Text);

        Assert.Equal("\n", canvas.ToText());
    }

    [Fact]
    public void What_could_act_on_a_terminal_is_shown_instead()
    {
        var canvas = new CellCanvas(40, 1);

        canvas.Write(0, 0, "ok\u001b[2J\r\n\u202Eleft", Role.Text);

        Assert.Equal("ok\\u{1B}[2J\\u{0D}\\u{0A}\\u{202E}left\n", canvas.ToText());
    }

    [Fact]
    public void A_pile_of_combining_marks_is_not_let_through()
    {
        var canvas = new CellCanvas(6, 1);

        canvas.Write(0, 0, "a" + new string('\u0301', 50) + "b", Role.Text);

        Assert.Equal("\uFFFDb\n", canvas.ToText());
    }

    [Fact]
    public void A_part_draws_on_its_own_cells_and_on_no_others()
    {
        var canvas = new CellCanvas(10, 4);

        CellCanvas part = canvas.Part(new Rect(2, 1, 3, 2));
        part.Fill(new Rect(-5, -5, 100, 100), Role.Text, "x");
        part.Write(0, 1, "abcdefgh", Role.Text);

        Assert.Equal("\n  xxx\n  abc\n\n", canvas.ToText());
    }

    [Fact]
    public void Ink_over_keeps_the_ground()
    {
        var canvas = new CellCanvas(2, 1);
        canvas.Fill(canvas.Area, new Ink(Role.Text, Role.Plate));

        canvas.Put(0, 0, "x", Ink.Over(Role.Bad));

        Assert.Equal(new Ink(Role.Bad, Role.Plate), canvas[0, 0].Ink);
    }

    [Fact]
    public void In_ascii_every_cell_is_ascii()
    {
        var canvas = new CellCanvas(12, 1, isAscii: true);

        canvas.Write(0, 0, "─▲床é±0.1 mm", Role.Text);

        Assert.Equal("-^? ?~0.1 mm\n", canvas.ToText());
    }

    [Fact]
    public void Whatever_is_written_every_cell_holds_one_harmless_grapheme_and_wide_ones_are_whole() =>
        Gen.Select(Gen.String, Gen.Int[-5, 25], Gen.Bool).Sample((text, column, isAscii) =>
        {
            var canvas = new CellCanvas(20, 1, isAscii);
            canvas.Write(column, 0, text, Role.Text);
            canvas.Write(3, 0, text, Role.Text);
            CanvasAssert.IsSound(canvas);
        });
}

internal static class CanvasAssert
{
    /// <summary>Every cell holds one grapheme without anything that acts on a terminal, and every second half has its first.</summary>
    public static void IsSound(CellCanvas canvas)
    {
        for (int row = 0; row < canvas.Rows; row++)
        {
            for (int column = 0; column < canvas.Columns; column++)
            {
                string grapheme = canvas[column, row].Grapheme;
                bool isWide = column + 1 < canvas.Columns && canvas[column + 1, row].Grapheme.Length == 0;
                Assert.Equal(grapheme.Length == 0 ? 0 : isWide ? 2 : 1, CellText.Cells(grapheme));
                Assert.True(grapheme.Length > 0 || (column > 0 && canvas[column - 1, row].Grapheme.Length > 0));
                Assert.DoesNotContain(grapheme.EnumerateRunes(), rune => System.Text.Rune.GetUnicodeCategory(rune) is UnicodeCategory.Control or UnicodeCategory.Format or UnicodeCategory.Surrogate);
                Assert.True(!canvas.IsAscii || CellText.IsPlain(grapheme));
            }
        }
    }
}
