namespace ProbeRunner.Console.Screens.Drawing;

/// <summary>
/// Colours for a measured quantity. Diverging: blue below, near white at the middle, orange above, lightness falling evenly to both ends.
/// Sequential: dark to light, lightness rising evenly. The hues differ for every common kind of colour blindness, and without colour there
/// are characters whose order is plain: numbers beside the picture say the rest.
/// </summary>
/// <param name="Low">Value at the lower end.</param>
/// <param name="High">Value at the upper end; the middle of a diverging ramp lies halfway.</param>
/// <param name="IsDiverging">Whether the middle is the neutral value.</param>
internal sealed record Ramp(double Low, double High, bool IsDiverging)
{
    private const int Shades = 64;
    private const string Densities = ".:-=+*#%@";
    private static readonly Colour[] Diverging = [.. Enumerable.Range(0, Shades + 1).Select(number => DivergingAt(number / (double)Shades))];
    private static readonly Colour[] Sequential = [.. Enumerable.Range(0, Shades + 1).Select(number => SequentialAt(number / (double)Shades))];

    /// <summary>Chosen by hand: on usual terminals each arm falls in luminance from the middle outwards.</summary>
    private static readonly Sixteen[] DivergingSixteen =
    [
        Sixteen.Blue, Sixteen.BrightBlue, Sixteen.Cyan, Sixteen.BrightCyan, Sixteen.BrightWhite,
        Sixteen.BrightYellow, Sixteen.Yellow, Sixteen.BrightRed, Sixteen.Red,
    ];

    private static readonly Sixteen[] SequentialSixteen = [Sixteen.Blue, Sixteen.BrightBlue, Sixteen.Cyan, Sixteen.BrightCyan, Sixteen.BrightWhite];

    /// <summary>A diverging ramp around zero that holds all values, its ends rounded.</summary>
    /// <param name="values">What is not finite is left out.</param>
    /// <param name="leastReach">The ends are at least this far from zero.</param>
    public static Ramp AroundZero(IEnumerable<double> values, double leastReach = 0.02)
    {
        double reach = Math.Max(leastReach, values.Where(double.IsFinite).Select(Math.Abs).DefaultIfEmpty(0).Max());
        double end = Scale.RoundUp(reach);
        return new Ramp(-end, end, true);
    }

    /// <summary>A sequential ramp from zero that holds all values, its end rounded.</summary>
    public static Ramp FromZero(IEnumerable<double> values, double leastReach = 0.01) =>
        new(0, Scale.RoundUp(Math.Max(leastReach, values.Where(double.IsFinite).DefaultIfEmpty(0).Max())), false);

    /// <summary>Where a value lies between the ends, 0 to 1; the middle for one that is not finite.</summary>
    public double Fraction(double value) => double.IsFinite(value) && High > Low ? Math.Clamp((value - Low) / (High - Low), 0, 1) : 0.5;

    /// <summary>The colour of a value on a terminal of a palette; with <see cref="ColourDepth.Monochrome"/> there is none.</summary>
    public Colour Of(double value, Palette palette)
    {
        double fraction = Fraction(value);
        return palette.Depth switch
        {
            ColourDepth.True => (IsDiverging ? Diverging : Sequential)[(int)Math.Round(fraction * Shades)],
            ColourDepth.Sixteen => Pick(IsDiverging ? DivergingSixteen : SequentialSixteen, fraction),
            _ => Colour.Terminal,
        };
    }

    /// <summary>Black or white: what can be read on a colour of the ramp.</summary>
    public Colour TextOn(double value, Palette palette)
    {
        Colour ground = Of(value, palette);
        double luminance = ground.Kind switch
        {
            ColourKind.Rgb => Oklab.Luminance(ground),
            ColourKind.Sixteen => Oklab.Luminance(RoleColours.Looks((Sixteen)ground.Value)),
            _ => double.NaN,
        };
        return double.IsNaN(luminance) ? Role.Text : palette.Depth == ColourDepth.Sixteen
            ? luminance > 0.179 ? Sixteen.Black : Sixteen.BrightWhite
            : Colour.Rgb(luminance > 0.179 ? 0x000000 : 0xFFFFFF);
    }

    /// <summary>A character that grows denser from the lower end to the upper, for terminals without colours; ASCII.</summary>
    public string Density(double value) => Densities[Math.Min(Densities.Length - 1, (int)(Fraction(value) * Densities.Length))].ToString();

    private static Sixteen Pick(Sixteen[] steps, double fraction) => steps[Math.Min(steps.Length - 1, (int)(fraction * steps.Length))];

    private static Colour DivergingAt(double fraction)
    {
        double away = Math.Abs(fraction - 0.5) * 2;
        return Oklab.Polar(0.96 - (0.58 * away), 0.015 + (0.13 * Math.Min(1, away * 1.4)), fraction < 0.5 ? 255 : 58).ToColour();
    }

    private static Colour SequentialAt(double fraction) =>
        Oklab.Polar(0.30 + (0.65 * fraction), 0.04 + (0.10 * Math.Sin(Math.PI * fraction)), 285 - (180 * fraction)).ToColour();
}
