namespace ProbeRunner.Procedures.Engine;

/// <summary>
/// Chance that is the same for the same seed and purpose on every machine and version: SplitMix64
/// (Steele, Lea, Flood: Fast splittable pseudorandom number generators, 2014) started from an FNV-1a hash of the purpose.
/// </summary>
internal sealed class SeededChance
{
    private ulong _state;

    public SeededChance(ulong seed, string purpose)
    {
        ulong hash = 14695981039346656037;
        foreach (char character in purpose)
        {
            hash = (hash ^ character) * 1099511628211;
        }

        _state = seed ^ hash;
    }

    /// <summary>A number from 0 up to, but not including, 1.</summary>
    public double Next()
    {
        _state += 0x9E3779B97F4A7C15;
        ulong mixed = _state;
        mixed = (mixed ^ (mixed >> 30)) * 0xBF58476D1CE4E5B9;
        mixed = (mixed ^ (mixed >> 27)) * 0x94D049BB133111EB;
        return ((mixed ^ (mixed >> 31)) >> 11) * (1.0 / (1UL << 53));
    }

    /// <summary>A number from <paramref name="least"/> to <paramref name="most"/>.</summary>
    public double Between(double least, double most) => least + ((most - least) * Next());
}
