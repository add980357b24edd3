using System.Globalization;

namespace ProbeRunner.Console.Screens.Drawing;

/// <summary>Numbers as the screens write them: invariant, decimals fixed, so that a changing number does not jump.</summary>
internal static class Numbers
{
    /// <summary>A length in mm with its sign, without the unit; a dash when there is none.</summary>
    public static string Signed(double value, int decimals = 3)
    {
        if (!double.IsFinite(value))
        {
            return "-";
        }

        string plain = Plain(Math.Abs(value), decimals);
        bool isZero = plain.AsSpan().IndexOfAnyInRange('1', '9') < 0;
        return isZero ? " " + plain : (value < 0 ? "-" : "+") + plain;
    }

    /// <summary>A number, without the unit; a dash when there is none.</summary>
    public static string Plain(double value, int decimals = 3)
    {
        if (!double.IsFinite(value))
        {
            return "-";
        }

        string text = value.ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
        return text.StartsWith('-') && text.AsSpan().IndexOfAnyInRange('1', '9') < 0 ? text[1..] : text;
    }

    /// <summary>A share as per cent, never rounded up to certainty.</summary>
    public static string Percent(double share) => !double.IsFinite(share)
        ? "-"
        : string.Create(CultureInfo.InvariantCulture, $"{(share is > 0.99 and < 1 ? Math.Floor(share * 1000) / 10 : Math.Round(share * 100)):0.#} %");

    /// <summary>A time: "42 s", "3:20", "7:05:00".</summary>
    public static string Time(TimeSpan time) => time.TotalSeconds < 60
        ? string.Create(CultureInfo.InvariantCulture, $"{Math.Max(0, time.TotalSeconds):0} s")
        : time.TotalHours < 1
            ? string.Create(CultureInfo.InvariantCulture, $"{(int)time.TotalMinutes}:{time.Seconds:00}")
            : string.Create(CultureInfo.InvariantCulture, $"{(int)time.TotalHours}:{time.Minutes:00}:{time.Seconds:00}");
}
