using ProbeRunner.Metrology.Budgets;
using ProbeRunner.Metrology.Results;
using ProbeRunner.Metrology.Series;

namespace ProbeRunner.Metrology.MonteCarlo;

/// <summary>Propagation of distributions through a model by Monte Carlo, for independent inputs (JCGM 101:2008, 7).</summary>
public static class MonteCarloPropagation
{
    /// <summary>Fewest draws of a run.</summary>
    public const int FewestDraws = 1_000;

    /// <summary>Most draws of a run: 80 MB of results.</summary>
    public const int MostDraws = 10_000_000;

    /// <summary>Draws of one round of an adaptive run, at 95 % coverage or less (JCGM 101:2008, 7.9.4 b).</summary>
    public const int RoundOfDraws = 10_000;

    /// <summary>A run with a fixed number of draws.</summary>
    /// <param name="model">The result from the inputs' values.</param>
    /// <param name="inputs">What is known about each input; at least one.</param>
    /// <param name="draws">1,000 to 10,000,000; a million gives two significant digits of a 95 % interval.</param>
    /// <param name="chance">The seeded generator that the caller owns; the same seed gives the same result.</param>
    /// <param name="coverageProbability">Above 0, below 1.</param>
    public static Answer<MonteCarloResult> Run(
        MeasurementModel model,
        IReadOnlyList<InputDistribution> inputs,
        int draws,
        Random chance,
        double coverageProbability = UncertaintyBudget.UsualCoverage)
    {
        if (Check(model, inputs, chance, coverageProbability) is { } wrong)
        {
            return wrong;
        }

        if (draws is < FewestDraws or > MostDraws)
        {
            return Reason.OutOfRange("A Monte Carlo run takes 1,000 to 10,000,000 draws.");
        }

        var results = new double[draws];
        return Draw(model, inputs, chance, results) is { } failed ? failed : Summarise(results, coverageProbability);
    }

    /// <summary>
    /// Rounds of draws until mean, uncertainty and interval ends are stable to the significant digits asked for
    /// (JCGM 101:2008, 7.9.4, with 7.9.2 for the tolerance), or the cap is reached.
    /// </summary>
    /// <param name="model">The result from the inputs' values.</param>
    /// <param name="inputs">What is known about each input; at least one.</param>
    /// <param name="significantDigits">Digits of the standard uncertainty that shall be right, 1 to 3.</param>
    /// <param name="chance">The seeded generator that the caller owns.</param>
    /// <param name="coverageProbability">Above 0, below 1.</param>
    /// <param name="cap">Most draws; two rounds to 10,000,000.</param>
    public static Answer<AdaptiveMonteCarloResult> RunAdaptively(
        MeasurementModel model,
        IReadOnlyList<InputDistribution> inputs,
        int significantDigits,
        Random chance,
        double coverageProbability = UncertaintyBudget.UsualCoverage,
        int cap = MostDraws)
    {
        if (Check(model, inputs, chance, coverageProbability) is { } wrong)
        {
            return wrong;
        }

        int round = (int)Math.Clamp(100 / (1 - coverageProbability), RoundOfDraws, MostDraws / 2.0);
        if (significantDigits is < 1 or > 3 || cap < 2 * round || cap > MostDraws)
        {
            return Reason.OutOfRange("An adaptive run gives 1 to 3 significant digits and needs a cap of two rounds to 10,000,000 draws.");
        }

        var all = new List<double>();
        var rounds = new List<MonteCarloResult>();
        while (all.Count + round <= cap)
        {
            var results = new double[round];
            if (Draw(model, inputs, chance, results) is { } failed)
            {
                return failed;
            }

            all.AddRange(results);
            rounds.Add(Summarise(results, coverageProbability));
            if (rounds.Count > 1 && Stability.Of(rounds, all, significantDigits) is { Settled: true } stable)
            {
                return new AdaptiveMonteCarloResult(Summarise([.. all], coverageProbability), stable.Tolerance, true);
            }
        }

        Stability last = Stability.Of(rounds, all, significantDigits);
        return new AdaptiveMonteCarloResult(Summarise([.. all], coverageProbability), last.Tolerance, false);
    }

    private static Reason? Check(MeasurementModel model, IReadOnlyList<InputDistribution> inputs, Random chance, double coverageProbability)
    {
        ArgumentNullException.ThrowIfNull(model);
        ArgumentNullException.ThrowIfNull(inputs);
        ArgumentNullException.ThrowIfNull(chance);
        if (inputs.Count == 0)
        {
            return Reason.TooFew("A Monte Carlo run", 1, 0);
        }

        return coverageProbability is > 0 and < 1
            ? inputs.Select(input => input.Check()).FirstOrDefault(wrong => wrong is not null)
            : Reason.OutOfRange("A coverage probability must lie above 0 and below 1.");
    }

    private static Reason? Draw(MeasurementModel model, IReadOnlyList<InputDistribution> inputs, Random chance, double[] results)
    {
        var values = new double[inputs.Count];
        for (int draw = 0; draw < results.Length; draw++)
        {
            for (int i = 0; i < values.Length; i++)
            {
                values[i] = inputs[i].Draw(chance);
            }

            results[draw] = model(values);
            if (!double.IsFinite(results[draw]))
            {
                return new Reason(RefusalKind.NotFinite, "The model gives no finite number for values that its inputs may take.");
            }
        }

        return null;
    }

    private static MonteCarloResult Summarise(double[] results, double coverageProbability)
    {
        Array.Sort(results);
        return new MonteCarloResult(
            Moments.Mean(results),
            Moments.StandardDeviation(results),
            coverageProbability,
            CoverageInterval.Shortest(results, coverageProbability),
            CoverageInterval.Symmetric(results, coverageProbability),
            results.Length);
    }
}
