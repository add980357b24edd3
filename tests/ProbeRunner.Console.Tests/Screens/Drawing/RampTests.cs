using CsCheck;
using ProbeRunner.Console.Screens.Drawing;

namespace ProbeRunner.Console.Tests.Screens.Drawing;

public sealed class RampTests
{
    private static readonly Palette True = new(ColourDepth.True);
    private static readonly Palette Sixteen = new(ColourDepth.Sixteen);

    [Fact]
    public void A_sequential_ramp_only_grows_lighter() => Gen.Select(Gen.Double[0, 1], Gen.Double[0, 1]).Sample((one, other) =>
    {
        var ramp = new Ramp(0, 1, false);
        foreach (Palette palette in new[] { True, Sixteen })
        {
            Assert.True(Luminance(ramp.Of(Math.Min(one, other), palette)) <= Luminance(ramp.Of(Math.Max(one, other), palette)));
        }
    });

    [Fact]
    public void Each_arm_of_a_diverging_ramp_only_grows_darker_outwards() => Gen.Select(Gen.Double[0, 1], Gen.Double[0, 1], Gen.Bool).Sample((one, other, isLow) =>
    {
        var ramp = new Ramp(-1, 1, true);
        int side = isLow ? -1 : 1;
        foreach (Palette palette in new[] { True, Sixteen })
        {
            Assert.True(Luminance(ramp.Of(side * Math.Max(one, other), palette)) <= Luminance(ramp.Of(side * Math.Min(one, other), palette)));
        }
    });

    [Fact]
    public void The_character_ramp_only_grows_denser()
    {
        var ramp = new Ramp(0, 1, false);

        string all = string.Concat(Enumerable.Range(0, 101).Select(part => ramp.Density(part / 100.0)));

        Assert.Equal(all, string.Concat(all.OrderBy(letter => ".:-=+*#%@".IndexOf(letter, StringComparison.Ordinal))));
        Assert.Equal(9, all.Distinct().Count());
    }

    [Fact]
    public void The_two_arms_can_be_told_apart_without_red_against_green()
    {
        // Someone who confuses red and green still sees blue against yellow: the B axis must differ clearly wherever the arms have colour.
        var ramp = new Ramp(-1, 1, true);
        foreach (double away in new[] { 0.3, 0.5, 0.8, 1 })
        {
            Assert.True(Oklab.Of(ramp.Of(away, True)).B - Oklab.Of(ramp.Of(-away, True)).B > 0.08, $"at {away}");
        }
    }

    [Fact]
    public void Text_on_a_colour_can_be_read() => Gen.Double[-1, 1].Sample(value =>
    {
        // WCAG 2.2, 1.4.3: a contrast of 4.5 for text.
        var ramp = new Ramp(-1, 1, true);
        Assert.True(Contrast(ramp.Of(value, True), ramp.TextOn(value, True)) >= 4.5);
    });

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void Every_text_role_can_be_read_on_its_ground(bool isDark)
    {
        // WCAG 2.2, 1.4.3.
        foreach (Role role in new[] { Role.Text, Role.Quiet, Role.Accent, Role.Good, Role.Warning, Role.Bad, Role.Axis, Role.Key, Role.Nozzle, Role.Probe })
        {
            foreach (Role ground in new[] { Role.Ground, Role.Raised })
            {
                Assert.True(Contrast(RoleColours.True(role, isDark), RoleColours.True(ground, isDark)) >= 4.5, $"{role} on {ground}, dark {isDark}");
            }
        }

        Assert.True(Contrast(RoleColours.True(Role.SelectionText, isDark), RoleColours.True(Role.Selection, isDark)) >= 4.5);
        Assert.True(Contrast(RoleColours.True(Role.AlarmText, isDark), RoleColours.True(Role.Alarm, isDark)) >= 4.5);
    }

    [Theory]
    [InlineData(0xFFFFFF, 1.0, 0.0, 0.0)]
    [InlineData(0xFF0000, 0.628, 0.225, 0.126)]
    [InlineData(0x00FF00, 0.866, -0.234, 0.179)]
    [InlineData(0x0000FF, 0.452, -0.032, -0.312)]
    public void Oklab_agrees_with_published_values(int rgb, double lightness, double a, double b)
    {
        // CSS Color Module Level 4 lists oklab(62.8% 0.22 0.13) for red and the like; further decimals from memory.
        Oklab seen = Oklab.Of(Colour.Rgb(rgb));

        Assert.Equal(lightness, seen.Lightness, 2e-3);
        Assert.Equal(a, seen.A, 2e-3);
        Assert.Equal(b, seen.B, 2e-3);
    }

    [Fact]
    public void Oklab_comes_back_to_the_colour() => Gen.Int[0, 0xFFFFFF].Sample(rgb =>
    {
        (byte red, byte green, byte blue) = Oklab.Of(Colour.Rgb(rgb)).ToColour().Channels;
        (byte red0, byte green0, byte blue0) = Colour.Rgb(rgb).Channels;
        Assert.InRange(Math.Max(Math.Abs(red - red0), Math.Max(Math.Abs(green - green0), Math.Abs(blue - blue0))), 0, 1);
    });

    [Fact]
    public void Without_colours_nothing_but_the_terminals_own_is_asked_for()
    {
        var palette = new Palette(ColourDepth.Monochrome);
        foreach (Role role in Enum.GetValues<Role>())
        {
            Ink shown = palette.Shown(new Ink(role, Role.Alarm));
            Assert.Equal((Colour.Terminal, Colour.Terminal, Letters.Reversed), (shown.Text, shown.Ground, shown.Letters & Letters.Reversed));
        }

        Assert.Equal(Colour.Terminal, new Ramp(0, 1, false).Of(0.3, palette));
    }

    private static double Luminance(Colour colour) => Oklab.Luminance(colour.Kind == ColourKind.Sixteen ? RoleColours.Looks((Sixteen)colour.Value) : colour);

    private static double Contrast(Colour one, Colour other)
    {
        (double a, double b) = (Oklab.Luminance(one), Oklab.Luminance(other));
        return (Math.Max(a, b) + 0.05) / (Math.Min(a, b) + 0.05);
    }
}
