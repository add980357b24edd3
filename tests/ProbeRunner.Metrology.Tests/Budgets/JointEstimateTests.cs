using ProbeRunner.Metrology.Budgets;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Tests.Budgets;

/// <summary>JCGM 100:2008, example H.2; unrounded values computed with R 4.2.2 from the Guide's observations.</summary>
public class JointEstimateTests
{
    private static readonly double[][] Observations =
    [
        [5.007, 4.994, 5.005, 4.990, 4.999],
        [19.663e-3, 19.639e-3, 19.640e-3, 19.685e-3, 19.678e-3],
        [1.0456, 1.0438, 1.0468, 1.0428, 1.0433],
    ];

    private static readonly MeasurementModel[] Impedance =
    [
        x => x[0] / x[1] * Math.Cos(x[2]),
        x => x[0] / x[1] * Math.Sin(x[2]),
        x => x[0] / x[1],
    ];

    [Fact]
    public void Simultaneous_observations_give_the_means_and_correlations_of_H_2()
    {
        JointEstimates inputs = JointEstimates.FromSimultaneous(Observations).Value;

        Close.Relative(4.999, inputs.Values[0], 1e-12);
        Close.Relative(0.019661, inputs.Values[1], 1e-12);
        Close.Relative(1.04446, inputs.Values[2], 1e-12);
        Close.Relative(0.003209361307, inputs.StandardUncertainties[0], 1e-9);
        Close.Relative(9.471008394e-6, inputs.StandardUncertainties[1], 1e-9);
        Close.Relative(7.520638271e-4, inputs.StandardUncertainties[2], 1e-9);
        Close.Absolute(-0.3553112, inputs.Correlation(0, 1), 1e-7);
        Close.Absolute(0.8576242, inputs.Correlation(0, 2), 1e-7);
        Close.Absolute(-0.6451112, inputs.Correlation(1, 2), 1e-7);
        Assert.Equal(4, inputs.DegreesOfFreedom);
    }

    [Fact]
    public void Resistance_reactance_and_impedance_come_out_as_in_H_2()
    {
        JointEstimates results = JointEstimates.FromSimultaneous(Observations).Value.Through(Impedance).Value;

        // The Guide prints 127.732/.071, 219.847/.295, 254.260/.236.
        double[] values = [127.7321699, 219.8465119, 254.2597019];
        double[] uncertainties = [0.0710714074, 0.2955816774, 0.2363361301];
        for (int i = 0; i < 3; i++)
        {
            Close.Relative(values[i], results.Values[i], 1e-9);
            Close.Relative(uncertainties[i], results.StandardUncertainties[i], 1e-8);
        }

        Close.Absolute(-0.5884298, results.Correlation(0, 1), 1e-7);
        Close.Absolute(-0.4852592, results.Correlation(0, 2), 1e-7);
        Close.Absolute(0.9925116, results.Correlation(1, 2), 1e-7);
    }

    [Fact]
    public void A_budget_with_the_same_correlations_gives_the_same_uncertainty_and_four_degrees_of_freedom()
    {
        JointEstimates joint = JointEstimates.FromSimultaneous(Observations).Value;
        string[] names = ["V", "I", "phi"];
        Contribution[] inputs = [.. names.Select((name, i) =>
            new Contribution(name, joint.Values[i], joint.StandardUncertainties[i]) { DegreesOfFreedom = 4 })];
        Correlation[] correlations =
            [new("V", "I", joint.Correlation(0, 1)), new("V", "phi", joint.Correlation(0, 2)), new("I", "phi", joint.Correlation(1, 2))];

        BudgetResult budget = ModelBudget.Evaluate(Impedance[0], inputs, correlations).Value.Budget;

        Close.Relative(0.0710714074, budget.Combined, 1e-8);
        Close.Relative(4, budget.EffectiveDegreesOfFreedom!.Value, 1e-12);
    }

    [Fact]
    public void Results_evaluated_reading_by_reading_agree_with_those_from_the_means()
    {
        // The Guide's second approach (H.2.4): R from each set of observations, then the mean.
        double[] resistances = [.. Enumerable.Range(0, 5).Select(k => Impedance[0]([Observations[0][k], Observations[1][k], Observations[2][k]]))];
        Contribution direct = Contribution.FromReadings("R", resistances).Value;

        Close.Absolute(127.732, direct.Estimate, 5e-4);
        Close.Absolute(0.071, direct.StandardUncertainty, 5e-4);
    }

    [Fact]
    public void Quantities_of_unequal_length_are_refused() => Assert.Equal(
        RefusalKind.OutOfRange, JointEstimates.FromSimultaneous([[1.0, 2, 3], [1.0, 2]]).Refusal!.Kind);

    [Fact]
    public void Bad_observations_are_refused()
    {
        Assert.Equal(RefusalKind.TooFew, JointEstimates.FromSimultaneous([]).Refusal!.Kind);
        Assert.Equal(RefusalKind.TooFew, JointEstimates.FromSimultaneous([[1.0]]).Refusal!.Kind);
        Assert.Equal(RefusalKind.NotFinite, JointEstimates.FromSimultaneous([[1.0, double.NaN]]).Refusal!.Kind);
    }

    [Fact]
    public void Constant_observations_have_no_uncertainty_and_no_correlation()
    {
        JointEstimates joint = JointEstimates.FromSimultaneous([[1.0, 1, 1], [1.0, 2, 3]]).Value;

        Assert.Equal(0, joint.StandardUncertainties[0]);
        Assert.Equal(0, joint.Correlation(0, 1));
    }
}
