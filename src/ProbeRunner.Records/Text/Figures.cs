using System.Globalization;

namespace ProbeRunner.Records.Text;

/// <summary>Numbers for people, the same on every machine: a point for decimals, a true minus sign, the unit behind a no-break space.</summary>
internal static class Figures
{
    private const string Minus = "\u2212";
    private const string Space = "\u00A0";

    /// <summary>A length, mm.</summary>
    public static string Mm(double value, int decimals = 3) => $"{Number(value, decimals)}{Space}mm";

    /// <summary>A length with its sign, mm.</summary>
    public static string SignedMm(double value, int decimals = 3) => $"{Signed(value, decimals)}{Space}mm";

    /// <summary>A number.</summary>
    public static string Number(double value, int decimals) => WithMinus(Rounded(value, decimals).ToString("F" + decimals, CultureInfo.InvariantCulture));

    /// <summary>A number with its sign; a zero has none.</summary>
    public static string Signed(double value, int decimals)
    {
        double rounded = Rounded(value, decimals);
        return rounded > 0 ? "+" + Number(rounded, decimals) : Number(rounded, decimals);
    }

    /// <summary>A place on the bed.</summary>
    public static string Place(double x, double y) => $"X{Space}{Number(x, 1)}, Y{Space}{Number(y, 1)}";

    /// <summary>A probability or share as per cent; never rounded up to certainty.</summary>
    public static string Percent(double fraction) => fraction switch
    {
        > 0.9999 and < 1 => $"more than 99.99{Space}%",
        >= 0.995 and < 1 => $"{(Math.Floor(fraction * 10000) / 100).ToString("0.##", CultureInfo.InvariantCulture)}{Space}%",
        _ => $"{(fraction * 100).ToString("0", CultureInfo.InvariantCulture)}{Space}%",
    };

    /// <summary>A duration: "42 s", "3 min 20 s", "7 h 05 min".</summary>
    public static string Duration(TimeSpan time) => time switch
    {
        { TotalSeconds: < 60 } => string.Create(CultureInfo.InvariantCulture, $"{time.TotalSeconds:0}{Space}s"),
        { TotalMinutes: < 60 } => string.Create(CultureInfo.InvariantCulture, $"{(int)time.TotalMinutes}{Space}min {time.Seconds:00}{Space}s"),
        _ => string.Create(CultureInfo.InvariantCulture, $"{(int)time.TotalHours}{Space}h {time.Minutes:00}{Space}min"),
    };

    /// <summary>A moment by the wall clock with its offset from UTC.</summary>
    public static string Moment(DateTimeOffset moment) => moment.ToString("yyyy-MM-dd HH:mm:ss zzz", CultureInfo.InvariantCulture);

    // Through decimal text, so that -0.0004 at three decimals is 0.000 and not -0.000.
    private static double Rounded(double value, int decimals)
    {
        double rounded = Math.Round(value, decimals, MidpointRounding.AwayFromZero);
        return rounded == 0 ? 0 : rounded;
    }

    private static string WithMinus(string number) => number.Replace("-", Minus, StringComparison.Ordinal);
}
