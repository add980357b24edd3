namespace ProbeRunner.Campaigns;

/// <summary>How a simulated probe scatters about the place it touches.</summary>
internal sealed record ScatterLaw(string Name, Func<Random, double> Deviation, double CombMm = 0)
{
    internal static readonly ScatterLaw Normal = new("normal", Draws.Normal);

    /// <summary>The same on a comb of 0.005 mm.</summary>
    internal static readonly ScatterLaw Quantized = new("normal, read in steps of 0.005 mm", Draws.Normal, 0.005);

    /// <summary>The same on a comb of 0.010 mm.</summary>
    internal static readonly ScatterLaw Coarse = new("normal, read in steps of 0.010 mm", Draws.Normal, 0.010);

    /// <summary>Student's t, 4 degrees of freedom, scaled to the standard deviation.</summary>
    internal static readonly ScatterLaw HeavyTailed = new("Student t, 4 degrees of freedom", Draws.HeavyTailed);

    /// <summary>Two in a hundred ten times as wide.</summary>
    internal static readonly ScatterLaw WideOutliers = new("2 % outliers, ten times as wide", chance => Draws.Normal(chance) * (chance.NextDouble() < 0.02 ? 10 : 1));

    /// <summary>Two in a hundred off by ten standard deviations.</summary>
    internal static readonly ScatterLaw FarOutliers = new("2 % outliers, off by 10 sigma", chance => Draws.Normal(chance) + Off(chance, 10));

    /// <summary>Two in a hundred off by five standard deviations.</summary>
    internal static readonly ScatterLaw NearOutliers = new("2 % outliers, off by 5 sigma", chance => Draws.Normal(chance) + Off(chance, 5));

    internal static readonly ScatterLaw[] All = [Normal, Quantized, Coarse, HeavyTailed, WideOutliers, FarOutliers, NearOutliers];

    /// <summary>A reading of a probe with a standard deviation (of its core, where there are outliers) at a place.</summary>
    internal double Read(Random chance, double place, double sigma)
    {
        double reading = place + (sigma * Deviation(chance));
        return CombMm > 0 ? Math.Round(reading / CombMm) * CombMm : reading;
    }

    private static double Off(Random chance, double distance) =>
        chance.NextDouble() >= 0.02 ? 0 : chance.NextDouble() < 0.5 ? -distance : distance;
}
