using ProbeRunner.Metrology.Budgets;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Tests.Budgets;

public class BudgetRefusalTests
{
    private static readonly Contribution A = new("a", 1, 0.1);
    private static readonly Contribution B = new("b", 1, 0.1);
    private static readonly Contribution C = new("c", 1, 0.1);

    public static TheoryData<Contribution, RefusalKind> Unusable => new()
    {
        { A with { Estimate = double.NaN }, RefusalKind.NotFinite },
        { A with { StandardUncertainty = double.PositiveInfinity }, RefusalKind.NotFinite },
        { A with { Sensitivity = double.NaN }, RefusalKind.NotFinite },
        { A with { StandardUncertainty = -0.1 }, RefusalKind.OutOfRange },
        { A with { DegreesOfFreedom = 0.5 }, RefusalKind.OutOfRange },
        { A with { DegreesOfFreedom = double.NaN }, RefusalKind.OutOfRange },
        { A with { Name = " " }, RefusalKind.OutOfRange },
        { A with { Estimate = 1e308, Sensitivity = 1e10 }, RefusalKind.NotFinite },
    };

    [Theory]
    [MemberData(nameof(Unusable))]
    public void An_unusable_contribution_is_refused(Contribution contribution, RefusalKind kind)
    {
        Assert.Equal(kind, UncertaintyBudget.Evaluate([contribution]).Refusal!.Kind);
        Assert.NotEmpty(UncertaintyBudget.Evaluate([contribution]).Refusal!.Message);
    }

    [Fact]
    public void An_empty_budget_is_refused() => Assert.Equal(RefusalKind.TooFew, UncertaintyBudget.Evaluate([]).Refusal!.Kind);

    [Fact]
    public void A_name_that_stands_twice_is_refused() => Assert.Contains("\"a\"", UncertaintyBudget.Evaluate([A, A]).Refusal!.Message, StringComparison.Ordinal);

    [Theory]
    [InlineData("a", "nowhere", 0.5)]
    [InlineData("nowhere", "a", 0.5)]
    [InlineData("a", "a", 0.5)]
    [InlineData("a", "b", 1.5)]
    [InlineData("a", "b", double.NaN)]
    public void A_correlation_that_can_not_be_is_refused(string first, string second, double coefficient) =>
        Assert.Equal(RefusalKind.OutOfRange, UncertaintyBudget.Evaluate([A, B], [new Correlation(first, second, coefficient)]).Refusal!.Kind);

    [Fact]
    public void Correlations_that_can_not_hold_together_are_refused() => Assert.Equal(
        RefusalKind.AssumptionBroken,
        UncertaintyBudget.Evaluate([A, B, C], [new("a", "b", 0.9), new("b", "c", 0.9), new("a", "c", -0.9)]).Refusal!.Kind);

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(-0.5)]
    [InlineData(double.NaN)]
    public void A_coverage_probability_outside_its_range_is_refused(double coverage) =>
        Assert.Equal(RefusalKind.OutOfRange, UncertaintyBudget.Evaluate([A], coverageProbability: coverage).Refusal!.Kind);

    [Fact]
    public void A_model_with_no_value_at_its_estimates_is_refused() => Assert.Equal(
        RefusalKind.NotFinite, ModelBudget.Evaluate(x => Math.Log(x[0]), [new Contribution("x", -1, 0.1)]).Refusal!.Kind);

    [Fact]
    public void A_budget_without_any_uncertainty_has_no_uncertainty()
    {
        BudgetResult budget = UncertaintyBudget.Evaluate([A with { StandardUncertainty = 0, DegreesOfFreedom = 3 }]).Value;

        Assert.Equal((1.0, 0.0, 0.0), (budget.Value, budget.Combined, budget.Expanded));
        Assert.Null(budget.EffectiveDegreesOfFreedom);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    public void A_mean_of_fewer_than_two_readings_is_refused(int count) =>
        Assert.Equal(RefusalKind.TooFew, Contribution.FromReadings("x", [.. Enumerable.Repeat(1.0, count)]).Refusal!.Kind);

    [Theory]
    [InlineData(0.25, 8)]
    [InlineData(0.5, 2)]
    public void A_standard_uncertainty_good_to_a_quarter_has_eight_degrees_of_freedom(double relative, double expected) =>
        Close.Relative(expected, Contribution.DegreesOfFreedomFromReliability(relative).Value, 1e-12); // JCGM 100:2008, G.4.2, example: 25 % gives 8

    [Theory]
    [InlineData(0)]
    [InlineData(0.8)]
    [InlineData(double.NaN)]
    public void A_reliability_outside_its_range_is_refused(double relative) =>
        Assert.Equal(RefusalKind.OutOfRange, Contribution.DegreesOfFreedomFromReliability(relative).Refusal!.Kind);
}
