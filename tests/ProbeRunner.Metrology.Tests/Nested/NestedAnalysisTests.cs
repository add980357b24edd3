using CsCheck;
using ProbeRunner.Campaigns;
using ProbeRunner.Metrology.Nested;
using ProbeRunner.Metrology.Results;
using static ProbeRunner.Metrology.Tests.Series.SeriesData;

namespace ProbeRunner.Metrology.Tests.Nested;

public sealed class NestedAnalysisTests
{
    private static readonly string[] Dyestuff =
    [
        "1545 1440 1440 1520 1580", "1540 1555 1490 1560 1495", "1595 1550 1605 1510 1560",
        "1445 1440 1595 1465 1545", "1595 1630 1515 1635 1625", "1520 1455 1450 1480 1445",
    ];

    private static readonly string[] Pastes =
    [
        "62.8 62.6;60.1 62.3;62.7 63.1", "60 61.4;57.5 56.9;61.1 58.9", "58.7 57.5;63.9 63.1;65.4 63.7", "57.1 56.4;56.9 58.6;64.7 64.5",
        "55.1 55.1;54.7 54.2;58.8 57.5", "63.4 64.9;59.3 58.1;60.5 60", "62.5 62.6;61 58.7;56.9 57.7", "59.2 59.4;65.2 66;64.8 64.1",
        "54.8 54.8;64 64;57.7 56.8", "58.3 59.3;59.2 59.2;58.9 56.6",
    ];

    private static readonly string[] Leaves =
    [
        "3.28 3.09;3.52 3.48;2.88 2.80", "2.46 2.44;1.87 1.92;2.19 2.19", "2.77 2.66;3.74 3.44;2.55 2.55", "3.78 3.87;4.07 4.12;3.31 3.31",
    ];

    // Davies and Goldsmith 1972, 6.4; values [C] lme4 1.1-31 under R 4.2.2.
    [Fact]
    public void Dyestuff_agrees_with_lme4()
    {
        NestedAnalysis analysis = NestedAnalysis.Of(OneLevel(Dyestuff), ["batch"]).Value;
        Near(11271.5, analysis.Components[0].MeanSquare, 1e-12);
        Near(2451.25, analysis.Components[1].MeanSquare, 1e-12);
        Near(1764.05, analysis.Components[0].Variance, 1e-12);
        Near(2451.25, analysis.Components[1].Variance, 1e-12);
        Near(1527.5, analysis.Mean, 1e-13);
        Near(19.38341, analysis.MeanStandardError, 5e-7);
    }

    // Davies and Goldsmith 1972, 6.5; values [C] R 4.2.2 and lme4 1.1-31.
    [Fact]
    public void Pastes_agree_with_R_4_2_2()
    {
        NestedAnalysis analysis = NestedAnalysis.Of(TwoLevels(Pastes), ["batch", "cask"]).Value;
        Assert.Equal([9, 20, 30], analysis.Components.Select(c => c.DegreesOfFreedom));
        Assert.Equal(["batch", "cask", "reading"], analysis.Components.Select(c => c.Level));
        Near(247.402667, analysis.Components[0].SumOfSquares, 1e-8);
        Near(350.906667, analysis.Components[1].SumOfSquares, 1e-8);
        Near(20.34, analysis.Components[2].SumOfSquares, 1e-10);
        Near(1.657308642, analysis.Components[0].Variance, 1e-9);
        Near(8.433666667, analysis.Components[1].Variance, 1e-9);
        Near(0.678, analysis.Components[2].Variance, 1e-10);
        Near(60.05333333, analysis.Mean, 1e-9);
        Near(0.676870, analysis.MeanStandardError, 1e-6);
    }

    // Snedecor and Cochran 1967, p. 286; data [R], answers [C] R 4.2.2.
    [Fact]
    public void Four_plants_with_three_leaves_agree_with_Snedecor_and_Cochran()
    {
        NestedAnalysis analysis = NestedAnalysis.Of(TwoLevels(Leaves), ["plant", "leaf"]).Value;
        Near(7.560345833, analysis.Components[0].SumOfSquares, 1e-9);
        Near(2.630200, analysis.Components[1].SumOfSquares, 1e-9);
        Near(0.079850, analysis.Components[2].SumOfSquares, 1e-9);
        Near(0.3652233796, analysis.Components[0].Variance, 1e-9);
        Near(0.1610604167, analysis.Components[1].Variance, 1e-9);
        Near(0.006654166667, analysis.Components[2].Variance, 1e-9);
        Near(0.532937963, analysis.TotalVariance, 1e-8);
        Near(3.012083333, analysis.Mean, 1e-9);
        Near(0.3240444464, analysis.MeanStandardError, 1e-9);
        Near(7.665166992, analysis.Components[0].MeanSquare / analysis.Components[1].MeanSquare, 1e-9);
        Near(49.40889, analysis.Components[1].MeanSquare / analysis.Components[2].MeanSquare, 1e-6);
    }

    // Worked fully nested example of a statistics package (furnace temperature) [R]: mean squares, divisors 48, 12, 3, components.
    [Fact]
    public void Expected_mean_squares_of_four_levels_give_the_published_components()
    {
        // Any data with these mean squares will do: one orthogonal contrast per level carries its whole sum of squares.
        double[] meanSquares = [243.8385, 41.6510, 31.9774, 12.4062];
        NestedAnalysis analysis = NestedAnalysis.Of(Balanced(meanSquares, [4, 4, 4, 3]), ["a", "b", "c"]).Value;
        double[] expected = [4.212240, 0.806133, 6.523733, 12.4062];
        for (int i = 0; i < 4; i++)
        {
            Near(expected[i], analysis.Components[i].Variance, 1e-6);
        }

        Near(23.948, analysis.TotalVariance, 5e-5);
    }

    // JCGM 100 H.5, Table H.9: day means and standard deviations of five readings a day; data [R], GUM's 43 and 18 microvolt [M].
    [Fact]
    public void Between_day_component_of_GUM_H_5_agrees()
    {
        double[] means = [172, 116, 013, 144, 106, 031, 060, 125, 163, 041];
        double[] deviations = [60, 77, 111, 101, 67, 93, 80, 73, 88, 86];
        double[] pattern = [-1, -0.5, 0, 0.5, 1];
        double patternSigma = Math.Sqrt(2.5 / 4);
        NestedReading[] readings = [.. Enumerable.Range(0, 10).SelectMany(day => pattern.Select(
            p => new NestedReading([$"{day}"], 10_000_000 + means[day] + (p * deviations[day] / patternSigma))))];
        NestedAnalysis analysis = NestedAnalysis.Of(readings, ["day"]).Value;
        Near(10_000_097.1, analysis.Mean, 1e-12);
        Near(84.88698, Math.Sqrt(analysis.Components[1].Variance), 1e-6);
        Near(42.63861, analysis.Components[0].Sigma, 1e-6);
        Near(18.0533, analysis.MeanStandardError, 3e-6);
        Near(2.261519, analysis.Components[0].MeanSquare / analysis.Components[1].MeanSquare, 1e-6);
    }

    // Package example "Using the GRR method", Houf and Burman 1988; data [R], answers [C] R 4.2.2.
    [Fact]
    public void Crossed_study_of_Houf_and_Burman_agrees_with_R_4_2_2()
    {
        string[] parts =
        [
            "37 38 37;41 41 40;41 42 41", "42 41 43;42 42 42;43 42 43", "30 31 31;31 31 31;29 30 28", "42 43 42;43 43 43;42 42 42",
            "28 30 29;29 30 29;31 29 29", "42 42 43;45 45 45;44 46 45", "25 26 27;28 28 30;29 27 27", "40 40 40;43 42 42;43 43 41",
            "25 25 25;27 29 28;26 26 26", "35 34 34;35 35 34;35 34 35",
        ];
        CrossedStudy study = CrossedStudy.Of([.. parts.Select(p => p.Split(';').Select(Numbers).ToArray())]).Value;
        double[] squares = [3935.955556, 39.266667, 48.511111, 30.666667];
        for (int i = 0; i < 4; i++)
        {
            Near(squares[i], study.SumsOfSquares[i], 2e-8);
        }

        Near(0.5111111111, study.Repeatability, 1e-9);
        Near(0.7279835391, study.Interaction, 1e-9);
        Near(0.5646090535, study.Operator, 1e-9);
        Near(48.29259259, study.Place, 1e-9);
        Near(1.803703704, study.GaugeVariance, 1e-9);
        Near(18.97491281, study.GaugePercent, 1e-9);
        Near(7.317667, study.DistinctCategories * Math.Sqrt(2) / 1.41, 1e-3);
        Near(0.2014530549, 6 * Math.Sqrt(study.GaugeVariance) / 40, 1e-9);
        Near(35.8, study.Mean, 1e-12);
    }

    [Fact]
    public void Order_of_readings_and_an_added_height_change_nothing_but_the_mean() =>
        Gen.Select(Gen.Double[-1, 1].Array[12, 30], Gen.Int[0, 9999], Gen.Double[-10, 10]).Sample((values, seed, shift) =>
        {
            NestedReading[] readings = [.. values.Select((v, i) => new NestedReading([$"{i % 4}", $"{i % 5 % 3}"], v))];
            if (NestedAnalysis.Of(readings, ["home", "extend"]) is not Known<NestedAnalysis> { Content: var plain })
            {
                return;
            }

            NestedReading[] shuffled = [.. readings.Select(r => r with { Value = r.Value + shift })];
            new Random(seed).Shuffle(shuffled);
            NestedAnalysis moved = NestedAnalysis.Of(shuffled, ["home", "extend"]).Value;
            for (int i = 0; i < 3; i++)
            {
                Assert.Equal(plain.Components[i].RawVariance, moved.Components[i].RawVariance, 9);
                Assert.Equal(plain.Components[i].Upper, moved.Components[i].Upper, 9);
            }
        });

    // Searle 1971, ch. 11: coefficient k0 = (N - sum n^2 / N) / (a - 1) of an unbalanced one-way study.
    [Fact]
    public void Unbalanced_groups_use_Searles_coefficient()
    {
        NestedReading[] readings = [.. new[] { (1, 1.0), (1, 2.0), (1, 3.0), (2, 6.0), (2, 8.0), (3, 1.5) }.Select(r => new NestedReading([$"{r.Item1}"], r.Item2))];
        NestedAnalysis analysis = NestedAnalysis.Of(readings, ["group"]).Value;
        double coefficient = (6 - ((9 + 4 + 1) / 6.0)) / 2;
        Near((analysis.Components[0].MeanSquare - analysis.Components[1].MeanSquare) / coefficient, analysis.Components[0].RawVariance, 1e-12);
    }

    // Burdick and Graybill 1992: the method covers close to its confidence; 15 homings of 2 extensions of 2 touches.
    [Fact]
    public void Intervals_of_the_homing_component_cover_close_to_95_percent()
    {
        var chance = new Random(20);
        int covered = 0;
        const int Studies = 2000;
        for (int study = 0; study < Studies; study++)
        {
            NestedAnalysis analysis = NestedAnalysis.Of(Simulate(chance, 15, 2, 2, 0.010, 0.006, 0.004), ["home", "extend"]).Value;
            covered += analysis.Components[0].Lower <= 1e-4 && 1e-4 <= analysis.Components[0].Upper ? 1 : 0;
        }

        Assert.InRange(covered / (double)Studies, 0.935, 0.965);
    }

    [Fact]
    public void Negative_estimates_are_reported_as_zero_and_kept_raw()
    {
        NestedReading[] readings = [.. new[] { 1.0, 5.0, 1.1, 4.9, 0.9, 5.2 }.Select((v, i) => new NestedReading([$"{i / 2}"], v))];
        VarianceComponent component = NestedAnalysis.Of(readings, ["group"]).Value.Components[0];
        Assert.True(component.RawVariance < 0);
        Assert.Equal(0, component.Variance);
        Assert.Equal(0, component.Lower);
    }

    [Fact]
    public void Studies_that_tell_nothing_are_refused_with_the_level()
    {
        NestedReading[] noRepeats = [new(["a"], 1), new(["b"], 2), new(["c"], 3)];
        Assert.Equal(RefusalKind.Undetermined, NestedAnalysis.Of(noRepeats, ["home"]).Refusal!.Kind);
        Assert.Equal(RefusalKind.TooFew, NestedAnalysis.Of([], ["home"]).Refusal!.Kind);
        Assert.Equal(RefusalKind.NotFinite, NestedAnalysis.Of([new(["a"], double.NaN)], ["home"]).Refusal!.Kind);
        Assert.Equal(RefusalKind.OutOfRange, NestedAnalysis.Of([new([], 1), new([], 2), new([], 3)], ["home"]).Refusal!.Kind);
        NestedAnalysis equal = NestedAnalysis.Of([new(["a"], 1), new(["a"], 1), new(["b"], 1), new(["b"], 1)], ["home"]).Value;
        Assert.Equal(0, equal.TotalVariance);
    }

    private static NestedReading[] OneLevel(string[] groups) =>
        [.. groups.SelectMany((g, i) => Numbers(g).Select(v => new NestedReading([$"{i}"], v)))];

    private static NestedReading[] TwoLevels(string[] groups) =>
        [.. groups.SelectMany((g, i) => g.Split(';').SelectMany((inner, j) => Numbers(inner).Select(v => new NestedReading([$"{i}", $"{j}"], v))))];

    private static NestedReading[] Balanced(double[] meanSquares, int[] sizes)
    {
        int count = sizes.Aggregate((a, b) => a * b);
        var readings = new NestedReading[count];
        int[] freedom = [sizes[0] - 1, sizes[0] * (sizes[1] - 1), sizes[0] * sizes[1] * (sizes[2] - 1), sizes[0] * sizes[1] * sizes[2] * (sizes[3] - 1)];
        int[] inner = [count / sizes[0], count / (sizes[0] * sizes[1]), sizes[3], 1];
        double[] effects = [.. meanSquares.Select((ms, level) => Math.Sqrt(ms * freedom[level] / (2 * inner[level])))];
        for (int i = 0; i < count; i++)
        {
            int a = i / inner[0], b = i / inner[1] % sizes[1], c = i / inner[2] % sizes[2], d = i % sizes[3];
            double value = (effects[0] * Contrast(a))
                + (a == 0 ? effects[1] * Contrast(b) : 0)
                + (a == 0 && b == 0 ? effects[2] * Contrast(c) : 0)
                + (a == 0 && b == 0 && c == 0 ? effects[3] * Contrast(d) : 0);
            readings[i] = new NestedReading([$"{a}", $"{b}", $"{c}"], value);
        }

        return readings;

        static double Contrast(int group) => group == 0 ? 1 : group == 1 ? -1 : 0;
    }

    private static NestedReading[] Simulate(Random chance, int homes, int extensions, int touches, double home, double extend, double touch) =>
    [
        .. from h in Enumerable.Range(0, homes)
           let atHome = home * Draws.Normal(chance)
           from e in Enumerable.Range(0, extensions)
           let atExtension = atHome + (extend * Draws.Normal(chance))
           from t in Enumerable.Range(0, touches)
           select new NestedReading([$"{h}", $"{e}"], atExtension + (touch * Draws.Normal(chance))),
    ];
}
