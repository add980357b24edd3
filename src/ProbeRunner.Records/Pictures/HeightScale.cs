using System.Globalization;

namespace ProbeRunner.Records.Pictures;

/// <summary>
/// Colours for heights: blue for low, near white at zero, orange for high. The two arms differ for every common kind of colour blindness
/// and lightness falls evenly towards both ends, so a grey print still shows how far from zero; numbers and contour lines say which side.
/// </summary>
/// <param name="ReachMm">The height at which both arms end, mm; positive.</param>
internal readonly record struct HeightScale(double ReachMm)
{
    private static readonly (double Red, double Green, double Blue)[] Low = [(245, 243, 238), (176, 204, 228), (104, 156, 206), (42, 104, 170), (13, 54, 112)];
    private static readonly (double Red, double Green, double Blue)[] High = [(245, 243, 238), (246, 205, 150), (232, 150, 72), (190, 94, 20), (118, 50, 4)];

    /// <summary>A scale that holds all heights, rounded up so that its ends are round numbers.</summary>
    public static HeightScale For(IEnumerable<double> heights)
    {
        double reach = heights.Where(double.IsFinite).Select(Math.Abs).DefaultIfEmpty(0).Max();
        double step = Ticks.Step(Math.Max(reach, 0.01), 4);
        return new HeightScale(Math.Ceiling((Math.Max(reach, 0.01) / step) - 1e-9) * step);
    }

    /// <summary>The colour of a height as #rrggbb.</summary>
    public string Colour(double heightMm)
    {
        (double red, double green, double blue) = At(heightMm);
        return string.Create(CultureInfo.InvariantCulture, $"#{(int)Math.Round(red):x2}{(int)Math.Round(green):x2}{(int)Math.Round(blue):x2}");
    }

    /// <summary>Relative luminance of a height's colour, 0 to 1 (WCAG 2.2, definition of relative luminance).</summary>
    public double Luminance(double heightMm)
    {
        (double red, double green, double blue) = At(heightMm);
        return (0.2126 * Linear(red)) + (0.7152 * Linear(green)) + (0.0722 * Linear(blue));
    }

    /// <summary>Black or white, whichever keeps a contrast of 4.5 on a height's colour (WCAG 2.2, 1.4.3).</summary>
    public string Ink(double heightMm) => Luminance(heightMm) > 0.179 ? "#000" : "#fff";

    private (double Red, double Green, double Blue) At(double heightMm)
    {
        (double, double, double)[] arm = heightMm < 0 ? Low : High;
        double along = Math.Clamp(Math.Abs(heightMm) / ReachMm, 0, 1) * (arm.Length - 1);
        int from = Math.Min((int)along, arm.Length - 2);
        double part = along - from;
        (double r0, double g0, double b0) = arm[from];
        (double r1, double g1, double b1) = arm[from + 1];
        return (r0 + ((r1 - r0) * part), g0 + ((g1 - g0) * part), b0 + ((b1 - b0) * part));
    }

    private static double Linear(double channel)
    {
        double c = channel / 255;
        return c <= 0.04045 ? c / 12.92 : Math.Pow((c + 0.055) / 1.055, 2.4);
    }
}
