using System.Globalization;

namespace ProbeRunner.Console.Screens.Drawing;

/// <summary>Maps values to a length of cells, with round ticks.</summary>
/// <param name="Low">Value at the beginning.</param>
/// <param name="High">Value at the end; above <paramref name="Low"/>.</param>
internal readonly record struct Scale(double Low, double High)
{
    private const int LongestPlot = 1_000_000;

    /// <summary>A scale that holds all values with a margin; one of some width even when all are the same.</summary>
    /// <param name="values">What is not finite is left out.</param>
    /// <param name="leastSpan">The scale is at least this wide; positive.</param>
    /// <param name="margin">Share of the span that is added at both ends.</param>
    public static Scale Holding(IEnumerable<double> values, double leastSpan, double margin = 0.05)
    {
        (double low, double high) = (double.PositiveInfinity, double.NegativeInfinity);
        foreach (double value in values)
        {
            if (double.IsFinite(value))
            {
                (low, high) = (Math.Min(low, value), Math.Max(high, value));
            }
        }

        if (low > high)
        {
            return new Scale(-leastSpan / 2, leastSpan / 2);
        }

        double middle = low + ((high - low) / 2);
        double half = Math.Max((high - low) * (0.5 + margin), leastSpan / 2);
        return double.IsFinite(half) && middle + half > middle - half ? new Scale(middle - half, middle + half) : new Scale(middle - Math.Abs(middle / 2) - 1, middle + Math.Abs(middle / 2) + 1);
    }

    /// <summary>The next round number (1, 1.5, 2, 3, 4, 5, 6 or 8 times a power of ten) not below a positive one.</summary>
    public static double RoundUp(double value)
    {
        if (!(value > 0) || !double.IsFinite(value))
        {
            return 1;
        }

        double power = Math.Pow(10, Math.Floor(Math.Log10(value)));
        foreach (double digit in (ReadOnlySpan<double>)[1, 1.5, 2, 3, 4, 5, 6, 8])
        {
            if (digit * power >= value * (1 - 1e-9))
            {
                return digit * power;
            }
        }

        return 10 * power;
    }

    /// <summary>Where a value lies along a length; may lie outside 0 to <paramref name="length"/>, but never far.</summary>
    public double Position(double value, double length)
    {
        double position = (value - Low) / (High - Low) * length;
        return double.IsNaN(position) ? -1 : Math.Clamp(position, -LongestPlot, LongestPlot);
    }

    /// <summary>The cell of a value, counted from the low end.</summary>
    public int CellOf(double value, int cells) => Math.Min((int)Math.Floor(Position(value, cells)), value <= High ? cells - 1 : LongestPlot);

    /// <summary>The value in the middle of a cell counted from the low end.</summary>
    public double ValueAt(int cell, int cells) => Low + ((High - Low) * (cell + 0.5) / Math.Max(1, cells));

    /// <summary>Round values within, about as many as wanted, with their text at the decimals that they need.</summary>
    public IReadOnlyList<(double Value, string Text)> Ticks(int wanted, bool isSigned = false)
    {
        double step = Records.Pictures.Ticks.Step(High - Low, Math.Max(1, wanted));
        if (Math.Max(Math.Abs(Low), Math.Abs(High)) / step > 1e12)
        {
            return [];
        }

        string decimals = new('0', Records.Pictures.Ticks.Decimals(step));
        string plain = decimals.Length == 0 ? "0" : "0." + decimals;
        string format = isSigned ? $"+{plain};-{plain};{plain}" : $"{plain};-{plain};{plain}";
        return [.. Records.Pictures.Ticks.Within(Low, High, step).Select(value => (value, (value == 0 ? 0 : value).ToString(format, CultureInfo.InvariantCulture)))];
    }
}
