namespace ProbeRunner.SimulatedPrinter.Chance;

/// <summary>
/// Chance without a generator: each draw is a hash of (seed, kind, ordinal), so that a draw more of one kind, or a line
/// sent again, shifts no other draw.
/// </summary>
internal static class KeyedNoise
{
    /// <summary>A uniform draw from 0 (included) to 1 (excluded).</summary>
    public static double Uniform(ulong seed, NoiseKind kind, long ordinal) => (Hash(seed, kind, ordinal) >> 11) * (1.0 / (1UL << 53));

    /// <summary>A draw from the standard normal distribution (Box and Muller, 1958).</summary>
    public static double Normal(ulong seed, NoiseKind kind, long ordinal)
    {
        var first = Hash(seed, kind, ordinal);
        var radius = ((first >> 11) + 0.5) * (1.0 / (1UL << 53));
        var angle = (Mix(first) >> 11) * (1.0 / (1UL << 53));
        return Math.Sqrt(-2 * Math.Log(radius)) * Math.Cos(2 * Math.PI * angle);
    }

    /// <summary>64 well-mixed bits.</summary>
    public static ulong Hash(ulong seed, NoiseKind kind, long ordinal) =>
        Mix(Mix(Mix(seed + 0x9E3779B97F4A7C15UL) ^ (ulong)kind) + (ulong)ordinal);

    // The finalizer of SplitMix64 (Steele, Lea and Flood, 2014).
    private static ulong Mix(ulong value)
    {
        value += 0x9E3779B97F4A7C15UL;
        value = (value ^ (value >> 30)) * 0xBF58476D1CE4E5B9UL;
        value = (value ^ (value >> 27)) * 0x94D049BB133111EBUL;
        return value ^ (value >> 31);
    }
}
