using ProbeRunner.Metrology.Distributions;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Nested;

/// <summary>Places (or parts) crossed with operators (or homings), each pair repeated: two-way random effects with interaction, balanced.</summary>
/// <param name="Repeatability">Variance of repeats.</param>
/// <param name="Interaction">Variance of place by operator, negative estimates set to 0.</param>
/// <param name="Operator">Variance between operators, negative estimates set to 0.</param>
/// <param name="Place">Variance between places, negative estimates set to 0.</param>
/// <param name="SumsOfSquares">Of places, operators, interaction and repeats.</param>
/// <param name="InteractionPValue">Of no interaction.</param>
/// <param name="Mean">Of all readings.</param>
public sealed record CrossedStudy(
    double Repeatability,
    double Interaction,
    double Operator,
    double Place,
    IReadOnlyList<double> SumsOfSquares,
    double InteractionPValue,
    double Mean)
{
    /// <summary>Variance of the gauge: all but the places.</summary>
    public double GaugeVariance => Repeatability + Interaction + Operator;

    /// <summary>Gauge sigma as a percentage of the total sigma (study limits 10 and 30 %, AIAG MSA, 4th ed.).</summary>
    public double GaugePercent => 100 * Math.Sqrt(GaugeVariance / (GaugeVariance + Place));

    /// <summary>Number of classes of places that the gauge can tell apart, 1.41 x place sigma / gauge sigma, not rounded down; 5 or more is wanted.</summary>
    public double DistinctCategories => 1.41 * Math.Sqrt(Place / GaugeVariance);

    /// <summary>Analyses readings[place][operator][repeat]; two or more of each, the same number everywhere.</summary>
    public static Answer<CrossedStudy> Of(IReadOnlyList<IReadOnlyList<IReadOnlyList<double>>> readings)
    {
        ArgumentNullException.ThrowIfNull(readings);
        int places = readings.Count;
        int operators = places > 0 ? readings[0].Count : 0;
        int repeats = operators > 0 ? readings[0][0].Count : 0;
        if (places < 2 || operators < 2 || repeats < 2)
        {
            return Reason.OutOfRange("A crossed study needs two places, two operators and two repeats or more.");
        }

        if (readings.Any(p => p.Count != operators || p.Any(o => o.Count != repeats)))
        {
            return Reason.OutOfRange("A crossed study needs the same operators and the same number of repeats at every place.");
        }

        double[] all = [.. readings.SelectMany(p => p).SelectMany(o => o)];
        if (Finite.Check(all, 8, "A crossed study") is { } why)
        {
            return why;
        }

        double mean = Series.Moments.Mean(all);
        double[] place = [.. readings.Select(p => Series.Moments.Mean([.. p.SelectMany(o => o)]) - mean)];
        double[] person = [.. Enumerable.Range(0, operators).Select(o => Series.Moments.Mean([.. readings.SelectMany(p => p[o])]) - mean)];
        double ssPlace = operators * repeats * place.Sum(d => d * d);
        double ssPerson = places * repeats * person.Sum(d => d * d);
        double ssBoth = 0;
        double ssRepeat = 0;
        for (int p = 0; p < places; p++)
        {
            for (int o = 0; o < operators; o++)
            {
                double cell = Series.Moments.Mean(readings[p][o]) - mean - place[p] - person[o];
                ssBoth += repeats * cell * cell;
                ssRepeat += Series.Moments.SquaredDeviations(readings[p][o]);
            }
        }

        double bothFreedom = (places - 1) * (operators - 1);
        double repeatFreedom = places * operators * (repeats - 1);
        double msRepeat = ssRepeat / repeatFreedom;
        double msBoth = ssBoth / bothFreedom;
        if (!(msRepeat > 0) || !double.IsFinite(ssPlace))
        {
            return Reason.Constant("A crossed study");
        }

        return new CrossedStudy(
            msRepeat,
            Math.Max(0, (msBoth - msRepeat) / repeats),
            Math.Max(0, ((ssPerson / (operators - 1)) - msBoth) / (places * repeats)),
            Math.Max(0, ((ssPlace / (places - 1)) - msBoth) / (operators * repeats)),
            [ssPlace, ssPerson, ssBoth, ssRepeat],
            FisherF.Above(msBoth / msRepeat, bothFreedom, repeatFreedom),
            mean);
    }
}
