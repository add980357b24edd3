namespace ProbeRunner.Benchmarks.BedSuite;

/// <summary>Seeded chance.</summary>
public sealed class Chance(int seed)
{
    private readonly Random random = new(seed);

    public double Between(double low, double high) => low + ((high - low) * random.NextDouble());

    public int Whole(int low, int high) => random.Next(low, high + 1);

    public bool Coin() => random.Next(2) == 0;

    public double Normal()
    {
        double radius = Math.Sqrt(-2 * Math.Log(1 - random.NextDouble()));
        return radius * Math.Cos(2 * Math.PI * random.NextDouble());
    }

    /// <summary>Standard deviation that a series of so many normal readings of standard deviation 1 shows.</summary>
    public double DeviationOf(int readings)
    {
        double[] values = [.. Enumerable.Range(0, readings).Select(_ => Normal())];
        double mean = values.Average();
        return Math.Sqrt(values.Sum(v => (v - mean) * (v - mean)) / (readings - 1));
    }
}
