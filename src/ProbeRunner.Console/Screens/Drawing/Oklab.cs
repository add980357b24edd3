namespace ProbeRunner.Console.Screens.Drawing;

/// <summary>A colour by how it is seen (the Oklab space, B. Ottosson 2020, "A perceptual color space for image processing").</summary>
/// <param name="Lightness">0 black to 1 white.</param>
/// <param name="A">Green (negative) to red.</param>
/// <param name="B">Blue (negative) to yellow.</param>
internal readonly record struct Oklab(double Lightness, double A, double B)
{
    /// <summary>A colour from lightness, chroma (0 grey, about 0.3 the strongest) and hue in degrees.</summary>
    public static Oklab Polar(double lightness, double chroma, double hueDegrees) =>
        new(lightness, chroma * Math.Cos(hueDegrees * Math.PI / 180), chroma * Math.Sin(hueDegrees * Math.PI / 180));

    /// <summary>How a true colour is seen.</summary>
    public static Oklab Of(Colour colour)
    {
        (byte red, byte green, byte blue) = colour.Channels;
        (double r, double g, double b) = (Linear(red), Linear(green), Linear(blue));
        double l = Math.Cbrt((0.4122214708 * r) + (0.5363325363 * g) + (0.0514459929 * b));
        double m = Math.Cbrt((0.2119034982 * r) + (0.6806995451 * g) + (0.1073969566 * b));
        double s = Math.Cbrt((0.0883024619 * r) + (0.2817188376 * g) + (0.6299787005 * b));
        return new Oklab(
            (0.2104542553 * l) + (0.7936177850 * m) - (0.0040720468 * s),
            (1.9779984951 * l) - (2.4285922050 * m) + (0.4505937099 * s),
            (0.0259040371 * l) + (0.7827717662 * m) - (0.8086757660 * s));
    }

    /// <summary>How far apart two colours look.</summary>
    public double DistanceTo(Oklab other) =>
        Math.Sqrt(((Lightness - other.Lightness) * (Lightness - other.Lightness)) + ((A - other.A) * (A - other.A)) + ((B - other.B) * (B - other.B)));

    /// <summary>The true colour; what a screen cannot show is made greyer until it can, its lightness kept.</summary>
    public Colour ToColour()
    {
        double share = 1;
        while (true)
        {
            (double r, double g, double b) = ToLinear(share);
            if (share < 0.02 || (IsShown(r) && IsShown(g) && IsShown(b)))
            {
                return Colour.Rgb(Channel(r), Channel(g), Channel(b));
            }

            share -= 0.02;
        }
    }

    /// <summary>Relative luminance of a true colour, 0 to 1 (WCAG 2.2, definition of relative luminance).</summary>
    public static double Luminance(Colour colour)
    {
        (byte red, byte green, byte blue) = colour.Channels;
        return (0.2126 * Linear(red)) + (0.7152 * Linear(green)) + (0.0722 * Linear(blue));
    }

    private static bool IsShown(double linear) => linear is >= -0.0005 and <= 1.0005;

    private static double Linear(byte channel)
    {
        double c = channel / 255.0;
        return c <= 0.04045 ? c / 12.92 : Math.Pow((c + 0.055) / 1.055, 2.4);
    }

    private static byte Channel(double linear)
    {
        double clamped = Math.Clamp(linear, 0, 1);
        double c = clamped <= 0.0031308 ? clamped * 12.92 : (1.055 * Math.Pow(clamped, 1 / 2.4)) - 0.055;
        return (byte)Math.Round(c * 255);
    }

    private (double Red, double Green, double Blue) ToLinear(double share)
    {
        double l = Cube(Lightness + (0.3963377774 * A * share) + (0.2158037573 * B * share));
        double m = Cube(Lightness - (0.1055613458 * A * share) - (0.0638541728 * B * share));
        double s = Cube(Lightness - (0.0894841775 * A * share) - (1.2914855480 * B * share));
        return (
            (4.0767416621 * l) - (3.3077115913 * m) + (0.2309699292 * s),
            (-1.2684380046 * l) + (2.6097574011 * m) - (0.3413193965 * s),
            (-0.0041960863 * l) - (0.7034186147 * m) + (1.7076147010 * s));
    }

    private static double Cube(double value) => value * value * value;
}
