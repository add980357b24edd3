using System.Collections.Immutable;

namespace ProbeRunner.Procedures.Steps.XyOffset;

/// <summary>
/// Bed, nozzle (N) and probe (P) in plain characters, seen from the front and from above: which side the probe is on can be compared with
/// the machine at a glance, without thinking of signs. Not to scale.
/// </summary>
public static class OffsetDrawing
{
    private const double SameLineMm = 0.05;
    private const int Width = 37;
    private const int Middle = Width / 2;
    private const int Aside = 12;

    /// <summary>The drawing.</summary>
    /// <param name="offsetXMm">Probe minus nozzle along X, mm: negative is left.</param>
    /// <param name="offsetYMm">Probe minus nozzle along Y, mm: negative is in front.</param>
    public static ImmutableArray<string> Lines(double offsetXMm, double offsetYMm)
    {
        (int column, int row) = (Middle + (Aside * Side(offsetXMm)), 1 - Side(offsetYMm));
        string[] above = [Row(0), Row(1), Row(2)];
        return
        [
            "Seen from the front, standing before the machine:",
            "  left  |" + Marks(('N', Middle), ('P', column)) + "|  right",
            "        +" + new string('=', Width) + "+  bed",
            $"  {AlongX(offsetXMm)}",
            "Seen from above, the front edge towards you:",
            "  back  |" + above[0] + "|",
            "  left  |" + above[1] + "|  right",
            "  front |" + above[2] + "|",
            $"  {AlongY(offsetYMm)}",
        ];

        string Row(int at) => at == 1 && row == 1
            ? Marks(('N', Middle), ('P', column))
            : at == 1 ? Marks(('N', Middle)) : at == row ? Marks(('P', column)) : Marks();
    }

    /// <summary>"The probe is 38.00 mm left of the nozzle (X = -38.00)."</summary>
    public static string AlongX(double offsetXMm) => Sentence(offsetXMm, "left of", "right of", "X", "neither left nor right of");

    /// <summary>"The probe is 9.00 mm in front of the nozzle (Y = -9.00)."</summary>
    public static string AlongY(double offsetYMm) => Sentence(offsetYMm, "in front of", "behind", "Y", "neither in front of nor behind");

    private static string Sentence(double offset, string negative, string positive, string axis, string neither) => Side(offset) == 0
        ? $"The probe is {neither} the nozzle ({axis} = 0)."
        : FormattableString.Invariant($"The probe is {Math.Abs(offset):0.00} mm {(offset < 0 ? negative : positive)} the nozzle ({axis} = {offset:+0.00;-0.00}).");

    private static int Side(double offset) => Math.Abs(offset) < SameLineMm ? 0 : Math.Sign(offset);

    private static string Marks(params (char Mark, int Column)[] marks)
    {
        char[] line = [.. Enumerable.Repeat(' ', Width)];
        foreach ((char mark, int column) in marks)
        {
            line[column] = line[column] == ' ' ? mark : '*'; // both at once
        }

        return new string(line);
    }
}
