using ProbeRunner.Metrology.Histories;
using static ProbeRunner.Metrology.Tests.Series.SeriesData;

namespace ProbeRunner.Metrology.Tests.Histories;

public sealed class HistoryTests
{
    // R dataset Nile (annual flow at Aswan 1871-1970; its fall after 1898 is published: Cobb 1978).
    private static readonly double[] Nile =
    [
        1120, 1160, 963, 1210, 1160, 1160, 813, 1230, 1370, 1140, 995, 935, 1110, 994, 1020, 960, 1180, 799, 958, 1140, 1100, 1210, 1150, 1250, 1260,
        1220, 1030, 1100, 774, 840, 874, 694, 940, 833, 701, 916, 692, 1020, 1050, 969, 831, 726, 456, 824, 702, 1120, 1100, 832, 764, 821, 768, 845,
        864, 862, 698, 845, 744, 796, 1040, 759, 781, 865, 845, 944, 984, 897, 822, 1010, 771, 676, 649, 846, 812, 742, 801, 1040, 860, 874, 848, 890,
        744, 749, 838, 1050, 918, 986, 797, 923, 975, 815, 1020, 906, 901, 1170, 912, 746, 919, 718, 714, 740,
    ];

    // The year (Cobb 1978); difference, limits and t by pooled two-sample t at every split, p with 99 splits: [C] R 4.2.2.
    [Fact]
    public void The_Nile_steps_down_after_1898()
    {
        ChangePoint step = ChangePoint.Of(Nile).Value;

        Assert.Equal(1899, 1871 + step.First);
        Near(-247.777777778, step.Size, 1e-8);
        Near(-304.206510098, step.Lower, 1e-7);
        Near(-191.349045457, step.Upper, 1e-7);
        Near(-8.71376895651, step.T, 1e-9);
        Near(7.36465188671e-12, step.PValue, 1e-3); // so far out the tail of t is good to four digits
        Assert.Equal(HistoryKind.Step, HistoryAnalysis.Of(Nile).Kind);
    }

    // [C] R 4.2.2: t.test(var.equal = TRUE), p times six splits.
    [Fact]
    public void Seven_runs_are_enough_for_a_clear_step()
    {
        HistoryAnalysis history = HistoryAnalysis.Of([5.1, 5.0, 5.2, 5.1, 5.6, 5.7, 5.6]);

        Assert.Equal((HistoryKind.Step, 4), (history.Kind, history.From));
        Near(0.00127103426443, history.PValue, 1e-10);
    }

    [Fact]
    public void A_rise_all_along_is_a_drift_and_its_size_goes_from_the_first_run_to_the_last()
    {
        HistoryAnalysis history = HistoryAnalysis.Of([0.00, 0.012, 0.018, 0.031, 0.042, 0.049, 0.061, 0.069, 0.081, 0.092]);

        Assert.Equal(HistoryKind.Drift, history.Kind);
        Near(0.09, history.Size, 0.003);
    }

    [Fact]
    public void Few_runs_and_equal_runs_show_nothing()
    {
        Assert.Equal(HistoryKind.TooFew, HistoryAnalysis.Of([1, 2, 3, 4]).Kind);
        Assert.Equal(HistoryKind.Steady, HistoryAnalysis.Of([1, 1, 1, 1, 1, 1]).Kind);
        Assert.Equal(HistoryKind.Step, HistoryAnalysis.Of([1, 1, 1, 1, 2, 2, 2]).Kind);
    }

    [Fact]
    public void A_steady_history_is_called_changed_in_few_of_many_trials()
    {
        const int Trials = 2000;
        var chance = new Random(3);
        int changed = Enumerable.Range(0, Trials).Count(_ =>
            HistoryAnalysis.Of([.. Enumerable.Range(0, 10).Select(_ => Math.Sqrt(-2 * Math.Log(1 - chance.NextDouble())) * Math.Cos(2 * Math.PI * chance.NextDouble()))]).Kind != HistoryKind.Steady);

        // Two tests at 1 % each: at most 2 % and three standard errors.
        Assert.True(changed <= (0.02 + (3 * Math.Sqrt(0.02 * 0.98 / Trials))) * Trials, $"{changed} of {Trials}");
    }
}
