using CsCheck;
using ProbeRunner.Records.Pictures;
using ProbeRunner.Records.Text;

namespace ProbeRunner.Records.Tests.Pictures;

public class PictureTests
{
    [Fact]
    public void On_a_plane_every_contour_point_lies_at_its_level() =>
        Gen.Select(Gen.Double[-1, 1], Gen.Double[-1, 1], Gen.Double[-3, 3], Gen.Int[2, 9], Gen.Int[2, 9]).Sample((a, b, level, columns, rows) =>
        {
            double[] heights = [.. Enumerable.Range(0, columns * rows).Select(index => (a * (index % columns)) + (b * (index / columns)))];

            foreach (((double Column, double Row) from, (double Column, double Row) to) in ContourLines.At(heights, columns, rows, level))
            {
                Assert.Equal(level, (a * from.Column) + (b * from.Row), 9);
                Assert.Equal(level, (a * to.Column) + (b * to.Row), 9);
            }
        });

    [Fact]
    public void A_saddle_gives_two_pieces_that_do_not_cross()
    {
        var pieces = ContourLines.At([1, -1, -1, 1], 2, 2, 0.1).ToList();

        Assert.Equal(2, pieces.Count);
        Assert.All(pieces, piece => Assert.True(Math.Abs(piece.From.Column - piece.To.Column) < 1 || Math.Abs(piece.From.Row - piece.To.Row) < 1));
    }

    [Fact]
    public void Steps_of_an_axis_are_one_two_or_five_times_a_power_of_ten() =>
        Gen.Double[1e-6, 1e6].Sample(span =>
        {
            double step = Ticks.Step(span, 5);
            double digit = step / Math.Pow(10, Math.Floor(Math.Log10(step) + 1e-9));
            Assert.Contains(Math.Round(digit, 6), new[] { 1.0, 2.0, 5.0, 10.0 });
            Assert.InRange(span / step, 1.9, 5.1);
        });

    [Fact]
    public void The_scale_gets_darker_towards_both_ends_so_that_grey_paper_shows_it()
    {
        var scale = new HeightScale(0.1);
        for (int step = 1; step <= 20; step++)
        {
            Assert.True(scale.Luminance(step * 0.005) < scale.Luminance((step - 1) * 0.005));
            Assert.True(scale.Luminance(step * -0.005) < scale.Luminance((step - 1) * -0.005));
        }
    }

    [Fact]
    public void Numbers_on_the_map_keep_a_contrast_of_four_and_a_half_to_their_ground()
    {
        // WCAG 2.2, success criterion 1.4.3: (L1 + 0.05) / (L2 + 0.05) of at least 4.5.
        var scale = new HeightScale(0.1);
        for (double height = -0.1; height <= 0.1; height += 0.001)
        {
            double ground = scale.Luminance(height);
            double contrast = scale.Ink(height) == "#fff" ? 1.05 / (ground + 0.05) : (ground + 0.05) / 0.05;
            Assert.True(contrast >= 4.5, FormattableString.Invariant($"{height}: {contrast}"));
        }
    }

    [Theory]
    [InlineData(-0.0004, 3, "0.000")]
    [InlineData(-0.0005, 3, "\u22120.001")]
    [InlineData(1234.5, 1, "1234.5")]
    [InlineData(0.05, 3, "+0.050")]
    public void Numbers_for_people_have_a_point_a_true_minus_and_no_negative_zero(double value, int decimals, string shown) =>
        Assert.Equal(shown, value > 0 && shown[0] == '+' ? Figures.Signed(value, decimals) : Figures.Number(value, decimals));

    [Theory]
    [InlineData(0.96, "96")]
    [InlineData(0.994, "99")]
    [InlineData(0.9996, "99.96")]
    [InlineData(0.99999, "more than 99.99")]
    [InlineData(1.0, "100")]
    public void A_confidence_is_never_rounded_up_to_certainty(double fraction, string shown) =>
        Assert.Equal(shown + "\u00A0%", Figures.Percent(fraction));
}
