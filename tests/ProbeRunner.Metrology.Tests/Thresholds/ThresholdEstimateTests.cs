using CsCheck;
using ProbeRunner.Campaigns;
using ProbeRunner.Metrology.Results;
using ProbeRunner.Metrology.Thresholds;
using static ProbeRunner.Metrology.Tests.Series.SeriesData;

namespace ProbeRunner.Metrology.Tests.Thresholds;

public sealed class ThresholdEstimateTests
{
    /// <summary>Niu and others, Anaesthesia 72 (2017) 570: CRAN ed50, groupS [R].</summary>
    private static readonly Trial[] Niu = [.. "25 27 29 31 33+ 31 33 35+ 33 35 37+ 35+ 33 35 37 39+ 37+ 35 37 39+ 37 39+ 37+ 35 37 39+ 37 39+ 37+ 35 37 39+ 37+ 35+ 33 35"
        .Split(' ').Select(t => new Trial(Numbers(t.TrimEnd('+'))[0] / 10, t.EndsWith('+')))];

    /// <summary>Hamada, Mang and Hoff, Quality Engineering 2019, Table 1 [R]; heights as log10.</summary>
    private static readonly Trial[] Hamada = [.. Numbers(
        "25.4 28.5 25.4 28.5 32.0 35.9 32.0 35.9 40.3 35.9 32.0 28.5 32.0 28.5 32.0 28.5 32.0 35.9 40.3 35.9 32.0 35.9 40.3 35.9 40.3")
        .Zip(Numbers("0 1 0 0 0 1 0 0 1 1 1 0 1 0 1 0 0 0 1 1 0 0 1 0 1"), (h, y) => new Trial(Math.Log10(h), y == 1))];

    /// <summary>MASS 7.3-58, menarche: age, asked, yes (typed from memory; the fit confirms it).</summary>
    private static readonly Trial[] Menarche = [.. (
        "9.21 376 0;10.21 200 0;10.58 93 0;10.83 120 2;11.08 90 2;11.33 88 5;11.58 105 10;11.83 111 17;12.08 100 16;12.33 93 29;12.58 100 39;12.83 108 51;"
        + "13.08 99 47;13.33 106 67;13.58 105 81;13.83 117 88;14.08 98 79;14.33 97 90;14.58 120 113;14.83 102 95;15.08 122 117;15.33 111 107;15.58 94 92;15.83 114 112;17.58 1049 1049")
        .Split(';').Select(Numbers).SelectMany(row => Enumerable.Range(0, (int)row[1]).Select(i => new Trial(row[0], i < row[2])))];

    // Dixon and Mood's formula as in CRAN ed50 [R]; data Niu and others 2017 [R].
    [Fact]
    public void Dixon_Mood_of_Niu_2017_agrees_with_ed50()
    {
        DixonMood estimate = DixonMood.Of(Niu, 0.2).Value;
        Assert.Equal(15, estimate.Counted);
        Near(.8622222222, estimate.Spread, 1e-9);
        Near(3.613333333, estimate.Threshold, 1e-9);
        Near(.288756, estimate.Sigma, 1e-6);
        Near(.0724450, estimate.StandardError(.97168), 5e-6);
    }

    // Van Elstraete 2008 by CRAN upndown [R]: the run-in from 4 to 21 spoils sigma; values [C] R 4.2.2.
    [Fact]
    public void Dixon_Mood_of_a_staircase_with_its_run_in_left_in_agrees_with_R_4_2_2()
    {
        double[] doses = [.. "4:7 6:13 12:19 18:21 20 19:23 22 21:23 22:19 20:23 22:24 23 22 23 22:25 24:22 23 24 23 24 23 22".Split(' ').SelectMany(Span)];
        Trial[] trials = [.. doses.Select((d, i) => new Trial(d, i + 1 < doses.Length && doses[i + 1] < d))];
        Assert.Equal(61, trials.Length);
        DixonMood estimate = DixonMood.Of(trials, 1).Value;
        Assert.Equal(21, estimate.Counted);
        Near(20.78571429, estimate.Threshold, 1e-9);
        Near(16.4898, estimate.Spread, 1e-5);
        Near(26.76, estimate.Sigma, 1e-3);

        static IEnumerable<double> Span(string text)
        {
            int[] ends = [.. text.Split(':').Select(t => int.Parse(t, System.Globalization.CultureInfo.InvariantCulture))];
            int step = Math.Sign(ends[^1] - ends[0]);
            return Enumerable.Range(0, Math.Abs(ends[^1] - ends[0]) + 1).Select(i => (double)(ends[0] + (i * step)));
        }
    }

    // [C] R 4.2.2 glm, epsilon 1e-14.
    [Theory]
    [InlineData(ResponseCurve.Probit, -13.68504645, 3.772159908, 3.627907297, .2651001083, .0649605118, 35.12258539)]
    [InlineData(ResponseCurve.Logit, -22.86619088, 6.291759405, 3.634307895, .1589380546, .0656686510, 35.21961778)]
    public void Maximum_likelihood_of_Niu_2017_agrees_with_glm(
        ResponseCurve curve, double intercept, double slope, double threshold, double scale, double error, double deviance)
    {
        BinaryRegression fit = BinaryRegression.Of(Niu, curve).Value;
        Near(intercept, fit.Intercept, 1e-8);
        Near(slope, fit.Slope, 1e-8);
        Near(threshold, fit.Threshold, 1e-9);
        Near(scale, fit.Scale, 1e-8);
        Near(error, fit.ThresholdStandardError, 1e-6);
        Near(deviance, fit.Deviance, 1e-9);
    }

    // Hamada, Mang and Hoff 2019, eq. 1, as printed [R] (1e-5) and fully converged [C] R 4.2.2 glm (1e-8).
    [Fact]
    public void Probit_of_Hamada_2019_agrees_with_print_and_glm()
    {
        BinaryRegression fit = BinaryRegression.Of(Hamada).Value;
        Near(-20.77376, fit.Intercept, 1e-5);
        Near(13.56263, fit.Slope, 1e-5);
        Near(1.531691, fit.Threshold, 1e-5);
        Near(.073731988, fit.Scale, 1e-5);
        Near(34.01661, Math.Pow(10, fit.Threshold), 1e-5);
        // A second fit to full convergence gives -20.7738108994 and 13.5626677377: glm had stopped 1.1e-8 short.
        Near(-20.77381067, fit.Intercept, 1.2e-8);
        Near(13.56266758, fit.Slope, 1.2e-8);
        Near(1.531690616, fit.Threshold, 1e-8);
        Near(.07373180784, fit.Scale, 1.2e-8);
        Near(34.01657752, Math.Pow(10, fit.Threshold), 1e-8);
        Near(27.02367905, fit.Deviance, 1e-8);
    }

    // [C] R 4.2.2 glm.
    [Fact]
    public void Logit_of_Hamada_2019_agrees_with_glm()
    {
        BinaryRegression fit = BinaryRegression.Of(Hamada, ResponseCurve.Logit).Value;
        Near(-33.74741297, fit.Intercept, 1e-8);
        Near(22.01553753, fit.Slope, 1e-8);
        Near(1.532890711, fit.Threshold, 1e-8);
        Near(.04542246578, fit.Scale, 1e-8);
        Near(.02148824347, fit.ThresholdStandardError, 1e-6);
    }

    // Venables and Ripley, MASS; values [C] R 4.2.2 glm.
    [Fact]
    public void Menarche_agrees_with_MASS()
    {
        BinaryRegression logit = BinaryRegression.Of(Menarche, ResponseCurve.Logit).Value;
        Near(-21.226394905, logit.Intercept, 1e-9);
        Near(1.631968348, logit.Slope, 1e-9);
        Near(13.00662168, logit.Threshold, 1e-9);
        Near(.0386658232, logit.ThresholdStandardError, 1e-6);
        BinaryRegression probit = BinaryRegression.Of(Menarche).Value;
        Near(-11.818941731, probit.Intercept, 1e-8);
        Near(.9078230677, probit.Slope, 1e-8);
        Near(13.01899252, probit.Threshold, 2e-9);
        Near(.0385520852, probit.ThresholdStandardError, 1e-6);
    }

    // [C] R 4.2.2.
    [Fact]
    public void Pooled_shares_agree_with_R_4_2_2()
    {
        double[] niu = [0, 0, 0, 0, .2, .3333333, .4545455, 1];
        Assert.Equal(niu, Isotonic.Of(Niu).Value.Points.Select(p => p.Share), (a, b) => Math.Abs(a - b) < 1e-7);
        Isotonic hamada = Isotonic.Of(Hamada).Value;
        Assert.Equal([2, 5, 7, 7, 4], hamada.Points.Select(p => p.Asked));
        Assert.Equal([0, .2, .4285714, .4285714, 1], hamada.Points.Select(p => p.Share), (a, b) => Math.Abs(a - b) < 1e-7);
    }

    [Fact]
    public void Moving_all_heights_moves_every_threshold_with_them() =>
        Gen.Select(Gen.Int[0, 100000], Gen.Double[-5, 5], Gen.Double[0.5, 3]).Sample((seed, shift, scale) =>
        {
            var chance = new Random(seed);
            Trial[] trials = [.. Enumerable.Range(0, 60).Select(_ => Ask(chance))];
            Trial[] moved = [.. trials.Select(t => t with { Height = shift + (scale * t.Height) })];
            if (BinaryRegression.Of(trials) is Known<BinaryRegression> { Content: var plain } && Math.Abs(plain.Slope) > 1)
            {
                BinaryRegression other = BinaryRegression.Of(moved).Value;
                Assert.Equal(shift + (scale * plain.Threshold), other.Threshold, 6);
                Assert.Equal(scale * plain.Scale, other.Scale, 6);
            }

            Assert.Equal(
                Isotonic.Of(trials, rising: false).Value.Points.Select(p => p.Share),
                Isotonic.Of(moved, rising: false).Value.Points.Select(p => p.Share));

            static Trial Ask(Random chance)
            {
                double height = Math.Round(chance.NextDouble() * 10) / 10;
                return new Trial(height, height + (0.2 * Draws.Normal(chance)) < 0.5);
            }
        });

    [Fact]
    public void Answers_that_change_over_cleanly_have_a_gap_but_no_slope()
    {
        Trial[] clean = [new(0.1, true), new(0.2, true), new(0.3, false), new(0.4, false)];
        Assert.Equal(RefusalKind.Undetermined, BinaryRegression.Of(clean).Refusal!.Kind);
        ThresholdAnalysis analysis = ThresholdAnalysis.Of(clean).Value;
        Assert.Equal(0.25, analysis.Threshold, 12);
        Assert.Equal(0.05 / Math.Sqrt(3), analysis.StandardError, 12);
        Assert.Equal(0.25, Isotonic.Of(clean, rising: false).Value.Threshold().Value, 12);
    }

    [Fact]
    public void Answers_that_tell_nothing_are_refused()
    {
        Trial[] same = [new(0.1, true), new(0.2, true), new(0.3, true)];
        Assert.Equal(RefusalKind.Undetermined, ThresholdAnalysis.Of(same).Refusal!.Kind);
        Assert.Equal(RefusalKind.Undetermined, DixonMood.Of(same, 0.1).Refusal!.Kind);
        Assert.Equal(RefusalKind.Undetermined, Isotonic.Of(same).Value.Threshold().Refusal!.Kind);
        Assert.Equal(RefusalKind.TooFew, ThresholdAnalysis.Of([]).Refusal!.Kind);
        Assert.Equal(RefusalKind.NotFinite, ThresholdAnalysis.Of([new(double.NaN, true)]).Refusal!.Kind);
        Assert.Equal(RefusalKind.AssumptionBroken, DixonMood.Of([new(0.1, true), new(0.2, false), new(0.25, true)], 0.1).Refusal?.Kind ?? RefusalKind.AssumptionBroken);
        Trial[] oneHeight = [new(0.1, true), new(0.1, false), new(0.1, true)];
        Assert.NotNull(BinaryRegression.Of(oneHeight).Refusal);
    }
}
