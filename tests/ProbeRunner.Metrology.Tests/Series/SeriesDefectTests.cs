using ProbeRunner.Campaigns;
using ProbeRunner.Metrology.Results;
using ProbeRunner.Metrology.Series;
using static ProbeRunner.Metrology.Tests.Series.SeriesData;

namespace ProbeRunner.Metrology.Tests.Series;

public sealed class SeriesDefectTests
{
    [Fact]
    public void Sound_series_seldom_show_a_defect()
    {
        var chance = new Random(3);
        int shown = Enumerable.Range(0, 150).Count(_ => SeriesAnalysis.Analyse(Normal(chance, 40)).Value.Defects.Count > 0);
        Assert.InRange(shown / 150.0, 0, 0.14);
    }

    [Fact]
    public void Drift_is_found_with_its_size()
    {
        double[] readings = [.. Normal(new Random(1), 40).Select((r, i) => r + (0.0005 * i))];
        SeriesDefect defect = Found(readings, SeriesDefectKind.Drift);
        Assert.InRange(defect.Size, 0.014, 0.025);
    }

    [Fact]
    public void First_touches_that_differ_are_found_with_their_number()
    {
        double[] readings = [.. Normal(new Random(2), 40).Select((r, i) => r + (i < 3 ? 0.02 : 0))];
        Assert.InRange(Found(readings, SeriesDefectKind.WarmUp).Size, 0.015, 0.025);
        Assert.Equal(3, WarmUp.Of(readings).Value.Touches);
    }

    [Fact]
    public void Clicking_between_two_heights_is_found_with_their_distance()
    {
        var chance = new Random(4);
        double[] readings = [.. Normal(chance, 40).Select(r => r + (chance.Next(2) * 0.03))];
        Assert.InRange(Found(readings, SeriesDefectKind.TwoLevels).Size, 0.026, 0.034);
        Assert.InRange(TwoLevels.Of(readings).Value.Sigma, 0.003, 0.007);
    }

    // Wolfe 1971's approximation, checked by simulation: it must not cry wolf on one level.
    [Fact]
    public void One_level_is_seldom_taken_for_two()
    {
        var chance = new Random(5);
        int claimed = Enumerable.Range(0, 400).Count(_ => TwoLevels.Of(Normal(chance, 30)).Value.PValue < 0.05);
        Assert.InRange(claimed / 400.0, 0, 0.08);
    }

    [Theory]
    [InlineData(0.005)]
    [InlineData(0.0125)]
    [InlineData(0.0025)]
    public void Step_of_an_exact_comb_is_found(double step)
    {
        double[] readings = [.. Normal(new Random(6), 40).Select(r => Math.Round((1.234 + r) / step) * step)];
        Comb comb = Comb.Find(readings).Value;
        Near(step, comb.Step, 1e-9);
        Assert.Equal(1, comb.Concentration);
    }

    [Fact]
    public void Step_of_a_blurred_comb_is_found()
    {
        var chance = new Random(7);
        double[] readings = [.. Normal(chance, 60).Select(r => (Math.Round((1 + (2 * r)) / 0.005) * 0.005) + (0.0004 * Draws.Normal(chance)))];
        Assert.InRange(Comb.Find(readings).Value.Step, 0.0049, 0.0051);
    }

    [Fact]
    public void Continuous_readings_sit_on_no_comb()
    {
        var chance = new Random(8);
        int claimed = Enumerable.Range(0, 150).Count(_ => Comb.Find(Normal(chance, 30)).IsKnown);
        Assert.InRange(claimed, 0, 4);
    }

    [Fact]
    public void Swing_is_found_with_its_period()
    {
        double[] readings = [.. Normal(new Random(9), 60).Select((r, i) => r + (0.008 * Math.Sin(2 * Math.PI * i / 7.5)))];
        Assert.InRange(Found(readings, SeriesDefectKind.Periodic).Size, 0.005, 0.011);
        Assert.Equal(7.5, Periodicity.Of(readings).Value.PeriodReadings, 1);
    }

    // Fisher 1929, table of the 5 % point of g: 0.68377 for 5 lines and 0.44495 for 10 [M].
    [Theory]
    [InlineData(5, 0.68377)]
    [InlineData(10, 0.44495)]
    public void Chance_of_the_largest_line_agrees_with_Fishers_table(int lines, double share) =>
        Assert.Equal(0.05, Periodicity.Chance(share, lines), 1e-4);

    [Fact]
    public void One_wild_reading_is_found_with_its_index()
    {
        double[] readings = Normal(new Random(10), 30);
        readings[17] += 0.06;
        SeriesAnalysis analysis = SeriesAnalysis.Analyse(readings).Value;
        Assert.Equal([17], analysis.Outliers.Value.Indices);
        Assert.Contains(analysis.Defects, d => d.Kind == SeriesDefectKind.Outliers && d.Size > 0.04);
    }

    [Theory]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(5)]
    [InlineData(9)]
    [InlineData(10000)]
    public void Any_number_of_readings_has_an_analysis_of_finite_numbers(int count)
    {
        foreach (double[] readings in new[] { Normal(new Random(count), count), [.. Enumerable.Repeat(0.3, count)], [.. Enumerable.Range(0, count).Select(i => i % 2 * 0.01)] })
        {
            SeriesAnalysis analysis = SeriesAnalysis.Analyse(readings, new SeriesQuestion(Tolerance: 0.1, Reference: 0)).Value;
            Assert.Equal(count, analysis.Summary.Count);
            FiniteNumbers.AssertAll(analysis);
        }
    }

    [Fact]
    public void None_one_and_not_a_number_are_refused()
    {
        Assert.Equal(RefusalKind.TooFew, SeriesAnalysis.Analyse([]).Refusal!.Kind);
        Assert.Equal(RefusalKind.TooFew, SeriesAnalysis.Analyse([1]).Refusal!.Kind);
        Assert.Equal(RefusalKind.NotFinite, SeriesAnalysis.Analyse([1, 2, double.NegativeInfinity]).Refusal!.Kind);
    }

    private static SeriesDefect Found(double[] readings, SeriesDefectKind kind) =>
        Assert.Single(SeriesAnalysis.Analyse(readings).Value.Defects, d => d.Kind == kind);

    private static double[] Normal(Random chance, int count) => [.. Enumerable.Range(0, count).Select(_ => 0.005 * Draws.Normal(chance))];
}
