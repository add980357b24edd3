namespace ProbeRunner.Campaigns;

/// <summary>Seeded chance for simulations.</summary>
internal static class Draws
{
    /// <summary>A standard normal value (Box and Muller).</summary>
    internal static double Normal(Random chance) =>
        Math.Sqrt(-2 * Math.Log(1 - chance.NextDouble())) * Math.Cos(2 * Math.PI * chance.NextDouble());

    /// <summary>A value of Student's t with 4 degrees of freedom, scaled to a standard deviation of 1.</summary>
    internal static double HeavyTailed(Random chance)
    {
        double squares = 0;
        for (int i = 0; i < 4; i++)
        {
            squares += Math.Pow(Normal(chance), 2);
        }

        return Normal(chance) / Math.Sqrt(squares / 4) / Math.Sqrt(2);
    }
}
