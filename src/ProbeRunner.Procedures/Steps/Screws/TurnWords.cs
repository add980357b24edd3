using System.Globalization;

namespace ProbeRunner.Procedures.Steps.Screws;

/// <summary>A turn of a screw in words a hand can follow.</summary>
public static class TurnWords
{
    /// <summary>The finest turn that is asked for.</summary>
    public const double Finest = 1.0 / 24;

    private const int Parts = 24;

    /// <summary>"1 and 3/8 turns (495 degrees)": whole turns and a fraction in its lowest terms.</summary>
    /// <param name="turns">Its sign is left out.</param>
    public static string Amount(double turns)
    {
        int parts = (int)Math.Round(Math.Abs(turns) * Parts);
        (int whole, int rest) = (parts / Parts, parts % Parts);
        int common = (int)System.Numerics.BigInteger.GreatestCommonDivisor(rest, Parts);
        string fraction = string.Create(CultureInfo.InvariantCulture, $"{rest / common}/{Parts / common}");
        string amount = (whole, rest) switch
        {
            (0, _) => $"{fraction} turn",
            (1, 0) => "1 turn",
            (_, 0) => string.Create(CultureInfo.InvariantCulture, $"{whole} turns"),
            _ => string.Create(CultureInfo.InvariantCulture, $"{whole} and {fraction} turns"),
        };
        return string.Create(CultureInfo.InvariantCulture, $"{amount} ({parts * 360 / Parts} degrees)");
    }

    /// <summary>First up or down and by how much, then which way round.</summary>
    /// <param name="screw">Its name.</param>
    /// <param name="riseMm">Wanted rise of the bed there; negative lowers.</param>
    /// <param name="turns">Clockwise seen from above positive.</param>
    public static string Instruction(string screw, double riseMm, double turns) => string.Create(
        CultureInfo.InvariantCulture,
        $"{(riseMm > 0 ? "Raise" : "Lower")} the bed at the {screw} screw by {Math.Abs(riseMm):0.00} mm: turn its knob {Amount(turns)} {Way(turns)} as seen from above. The knob is underneath: looking up at it from below, the same turn goes {Way(-turns)}. Stop if the knob comes loose or the spring is pressed solid.");

    /// <summary>Which way round a turn goes, clockwise positive.</summary>
    public static string Way(double turns) => turns > 0 ? "clockwise" : "counter-clockwise";
}
