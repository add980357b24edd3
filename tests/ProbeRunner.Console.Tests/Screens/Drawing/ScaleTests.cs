using CsCheck;
using ProbeRunner.Console.Screens.Drawing;

namespace ProbeRunner.Console.Tests.Screens.Drawing;

public sealed class ScaleTests
{
    [Fact]
    public void Ticks_are_round_and_within()
    {
        IReadOnlyList<(double Value, string Text)> ticks = new Scale(-0.023, 0.041).Ticks(4, isSigned: true);

        Assert.Equal(["-0.02", "0.00", "+0.02", "+0.04"], ticks.Select(tick => tick.Text));
    }

    [Fact]
    public void A_scale_holds_its_values_and_has_some_width_even_for_one() => Gen.Double[-1e3, 1e3].Array[0, 20].Sample(values =>
    {
        Scale scale = Scale.Holding(values, 0.01);
        Assert.True(scale.High - scale.Low >= 0.0099);
        Assert.All(values, value => Assert.InRange(scale.CellOf(value, 40), 0, 39));
        Assert.True(scale.Ticks(5).Count <= 12);
    });

    [Fact]
    public void Any_values_give_a_scale_that_can_be_drawn() => Gen.Select(Gen.Double.Array[0, 5], Gen.Double).Sample((values, value) =>
    {
        Scale scale = Scale.Holding(values, 0.01);
        Assert.True(scale.High > scale.Low);
        Assert.True(scale.Ticks(5).Count <= 12);
        _ = scale.CellOf(value, 40);
    });

    [Theory]
    [InlineData(0.031, 0.04)]
    [InlineData(0.012, 0.015)]
    [InlineData(0.02, 0.02)]
    [InlineData(9, 10)]
    public void Ends_of_scales_are_rounded_up(double value, double end) => Assert.Equal(end, Scale.RoundUp(value), 1e-12);

    [Theory]
    [InlineData(0.0004, " 0.000")]
    [InlineData(-0.0004, " 0.000")]
    [InlineData(0.0126, "+0.013")]
    [InlineData(-1.5, "-1.500")]
    [InlineData(double.NaN, "-")]
    public void Signed_numbers_keep_their_place(double value, string text) => Assert.Equal(text, Numbers.Signed(value));

    [Theory]
    [InlineData(0.9999, "99.9 %")]
    [InlineData(1, "100 %")]
    [InlineData(0.954, "95 %")]
    public void A_share_is_never_rounded_up_to_certainty(double share, string text) => Assert.Equal(text, Numbers.Percent(share));
}
