using CsCheck;
using ProbeRunner.Console.Screens.Drawing;

namespace ProbeRunner.Console.Tests.Screens.Drawing;

public sealed class CellTextTests
{
    [Theory]
    [InlineData("front left", 10, "front left")]
    [InlineData("front left", 7, "front …")]
    [InlineData("front left", 1, "…")]
    [InlineData("front left", 0, "")]
    [InlineData("床の高さ", 5, "床の…")]
    [InlineData("床の高さ", 4, "床…")]
    public void What_does_not_fit_ends_in_an_ellipsis(string text, int cells, string fitting) => Assert.Equal(fitting, CellText.Fit(text, cells));

    [Fact]
    public void Fitted_text_is_never_wider_than_it_may_be() => Gen.Select(Gen.String, Gen.Int[0, 30]).Sample((text, cells) =>
    {
        Assert.True(CellText.Cells(CellText.Fit(text, cells)) <= cells);
        Assert.Equal(cells, CellText.Cells(CellText.Pad(text, cells)));
        Assert.Equal(cells, CellText.Cells(CellText.PadLeft(text, cells)));
    });

    [Fact]
    public void Wrapped_lines_hold_all_words_in_order() => Assert.Equal(
        ["The probe", "touches", "one place", "about ten", "times."], CellText.Wrap("The probe touches one place about ten times.", 10));

    [Fact]
    public void A_word_longer_than_a_line_is_broken() => Assert.Equal(["a", "trigg", "ertoo", "zzle"], CellText.Wrap("a triggertoozzle", 5));

    [Fact]
    public void Wrapped_lines_are_never_too_wide() => Gen.Select(Gen.String, Gen.Int[2, 30]).Sample((text, cells) =>
        Assert.All(CellText.Wrap(text, cells), line => Assert.InRange(CellText.Cells(line), 1, cells)));
}
