using System.Globalization;

namespace ProbeRunner.EndToEnd.Tests.Harness;

/// <summary>A line of an exported table of readings.</summary>
internal static class StoredLine
{
    /// <summary>Whether it holds the three numbers of a reading.</summary>
    public static bool Holds(string line, (double X, double Y, double Z) reading)
    {
        var fields = line.Split(',');
        return new[] { reading.X, reading.Y, reading.Z }.All(number =>
            fields.Any(field => double.TryParse(field, CultureInfo.InvariantCulture, out var value) && Math.Abs(value - number) < 1e-9));
    }
}
