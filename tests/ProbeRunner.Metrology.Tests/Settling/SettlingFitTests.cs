using ProbeRunner.Metrology.Results;
using ProbeRunner.Metrology.Settling;
using static ProbeRunner.Metrology.Tests.Series.SeriesData;

namespace ProbeRunner.Metrology.Tests.Settling;

public sealed class SettlingFitTests
{
    // R dataset Loblolly, seed 329, model SSasymp: Asym 94.1282, R0 -8.2508, lrc -3.2176 are printed by R's own help page of SSasymp [M] and by
    // Pinheiro and Bates, Mixed-Effects Models in S and S-PLUS (2000) [M]; more digits, and what follows for this form, [C] R 4.2.2 nls().
    [Fact]
    public void The_growth_of_a_pine_agrees_with_R_4_2_2()
    {
        SettlingFit fit = SettlingFit.Of([3, 5, 10, 15, 20, 25], [3.93, 9.34, 26.08, 37.79, 48.31, 56.43]).Value;

        Near(94.1282042, fit.End.Value, 1e-6);
        Near(8.403017619, fit.End.StandardError, 1e-5);
        Near(24.9675798655, fit.TimeConstant.Value, 1e-6);
        Near(3.46009874646, fit.TimeConstant.StandardError, 1e-5);
        Near(-90.7878421027, fit.Amplitude.Value, 1e-6);
        Near(0.7493111, fit.ResidualStandardDeviation, 1e-6);
    }

    // Data of NIST StRD BoxBOD (x and y [M]), fitted by this three-parameter form instead of the certified two-parameter one: [C] R 4.2.2 nls(y ~ SSasymp(x, ...)).
    [Fact]
    public void Box_and_Hunters_oxygen_demand_agrees_with_R_4_2_2()
    {
        SettlingFit fit = SettlingFit.Of([1, 2, 3, 5, 7, 10], [109, 149, 149, 191, 213, 224]).Value;

        Near(242.669752098, fit.End.Value, 1e-5);
        Near(21.8790076, fit.End.StandardError, 1e-4);
        Near(4.38973483563, fit.TimeConstant.Value, 1e-5);
        Near(1.66217689598, fit.TimeConstant.StandardError, 1e-4);
        Near(-130.913867411, fit.Amplitude.Value, 1e-5);
        Near(9.14770365919, fit.ResidualStandardDeviation, 1e-7);
    }

    [Fact]
    public void A_straight_line_and_a_still_height_have_no_end_to_settle_to()
    {
        double[] times = [.. Enumerable.Range(0, 30).Select(i => 20.0 * i)];
        Assert.Equal(RefusalKind.Undetermined, SettlingFit.Of(times, [.. times.Select(t => 0.0001 * t)]).Refusal!.Kind);
        Assert.False(SettlingFit.Of(times, [.. times.Select(_ => 0.5)]).IsKnown);
    }

    [Theory]
    [InlineData(0.06, 300)]
    [InlineData(-0.04, 500)]
    [InlineData(0.02, 150)]
    public void What_is_called_settled_is_settled_in_nineteen_of_twenty_trials_and_the_wait_covers_the_truth(double movement, double tau)
    {
        const int Trials = 300;
        const double Tolerance = 0.005;
        var chance = new Random(7);
        double truly = tau * Math.Log(Math.Abs(movement) / Tolerance);
        int early = 0, shortWait = 0;
        for (int trial = 0; trial < Trials; trial++)
        {
            var times = new List<double>();
            var heights = new List<double>();
            int sure = 0;
            while (sure < 2)
            {
                double t = 20.0 * times.Count;
                times.Add(t);
                heights.Add(0.3 - (movement * Math.Exp(-t / tau)) + (0.005 * Normal(chance)));
                sure = times.Count >= 10 && SettlingBelief.Of(times, heights).Value.StillMoves(t, Tolerance) <= 0.05 ? sure + 1 : 0;
            }

            early += times[^1] < truly ? 1 : 0;
            shortWait += SettlingBelief.Of(times, heights).Value.SettledBy(Tolerance, 0.95) < truly ? 1 : 0;
        }

        Assert.True(early <= 0.08 * Trials, $"{early} of {Trials} called settled before {truly:0} s");
        Assert.True(shortWait <= 0.10 * Trials, $"{shortWait} of {Trials} waits too short");
    }

    [Fact]
    public void A_steady_drift_is_not_called_settled_however_long_it_is_watched()
    {
        var chance = new Random(8);
        double[] times = [.. Enumerable.Range(0, 120).Select(i => 20.0 * i)];
        double[] heights = [.. times.Select(t => (0.03 * t / 2400) + (0.004 * Normal(chance)))];

        Assert.True(SettlingBelief.Of(times, heights).Value.StillMoves(times[^1], 0.005) > 0.5);
    }

    private static double Normal(Random chance) => Math.Sqrt(-2 * Math.Log(1 - chance.NextDouble())) * Math.Cos(2 * Math.PI * chance.NextDouble());
}
