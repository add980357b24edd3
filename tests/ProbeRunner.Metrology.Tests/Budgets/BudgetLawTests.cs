using CsCheck;
using ProbeRunner.Metrology.Budgets;

namespace ProbeRunner.Metrology.Tests.Budgets;

public class BudgetLawTests
{
    private static readonly Gen<Contribution[]> Budgets =
        Gen.Select(Gen.Double[-10, 10], Gen.Double[0.001, 5], Gen.Double[-3, 3], Gen.Int[0, 60])
            .Array[1, 8]
            .Select(rows => rows.Select((row, i) => new Contribution($"c{i}", row.Item1, row.Item2)
            {
                Sensitivity = row.Item3 == 0 ? 1 : row.Item3,
                DegreesOfFreedom = row.Item4 == 0 ? null : row.Item4,
            }).ToArray());

    [Fact]
    public void Shares_add_up_to_one() => Budgets.Sample(budget =>
        Close.Absolute(1, UncertaintyBudget.Evaluate(budget).Value.Shares.Sum(share => share.Share), 1e-12));

    [Fact]
    public void The_order_of_contributions_does_not_matter() => Budgets.Sample(budget =>
    {
        BudgetResult one = UncertaintyBudget.Evaluate(budget).Value;
        BudgetResult other = UncertaintyBudget.Evaluate([.. budget.Reverse()]).Value;
        Close.Relative(one.Expanded, other.Expanded, 1e-9);
        Close.Absolute(one.Value, other.Value, 1e-9);
    });

    [Fact]
    public void Another_unit_of_length_scales_the_uncertainty_and_keeps_degrees_of_freedom() => Budgets.Sample(budget =>
    {
        BudgetResult millimetres = UncertaintyBudget.Evaluate(budget).Value;
        BudgetResult nanometres = UncertaintyBudget.Evaluate([.. budget.Select(part => part with { Sensitivity = part.Sensitivity * 1e6 })]).Value;
        Close.Relative(millimetres.Combined * 1e6, nanometres.Combined, 1e-12);
        if (millimetres.EffectiveDegreesOfFreedom is { } freedom)
        {
            Close.Relative(freedom, nanometres.EffectiveDegreesOfFreedom!.Value, 1e-9);
        }
    });

    [Fact]
    public void Effective_degrees_of_freedom_lie_between_the_fewest_and_the_sum() => Budgets.Sample(budget =>
    {
        Contribution[] finite = [.. budget.Select(part => part with { DegreesOfFreedom = part.DegreesOfFreedom ?? 5 })];
        double effective = UncertaintyBudget.Evaluate(finite).Value.EffectiveDegreesOfFreedom!.Value;
        Assert.InRange(effective, finite.Min(part => part.DegreesOfFreedom!.Value) - 1e-9, finite.Sum(part => part.DegreesOfFreedom!.Value) + 1e-9);
    });

    [Fact]
    public void A_linear_model_gives_the_same_as_its_sensitivities() => Budgets.Sample(budget =>
    {
        BudgetResult direct = UncertaintyBudget.Evaluate(budget).Value;
        ModelBudgetResult model = ModelBudget.Evaluate(x => budget.Select((part, i) => part.Sensitivity * x[i]).Sum(), budget).Value;
        Close.Absolute(direct.Value, model.Budget.Value, 1e-9);
        Close.Relative(direct.Combined, model.Budget.Combined, 1e-9);
        Close.Relative(direct.Combined, model.CombinedToSecondOrder, 1e-6);
    });

    [Fact]
    public void A_quantity_split_into_two_fully_correlated_halves_is_the_same_quantity() => Gen.Double[0.01, 10].Sample(uncertainty =>
    {
        BudgetResult whole = UncertaintyBudget.Evaluate([new("whole", 0, uncertainty) { DegreesOfFreedom = 7 }]).Value;
        Contribution half = new("one", 0, uncertainty) { Sensitivity = 0.5, DegreesOfFreedom = 7 };
        BudgetResult halves = UncertaintyBudget.Evaluate([half, half with { Name = "other" }], [new Correlation("one", "other", 1)]).Value;
        Close.Relative(whole.Combined, halves.Combined, 1e-12);
        Close.Relative(7, halves.EffectiveDegreesOfFreedom!.Value, 1e-12);
        Assert.All(halves.Shares, share => Close.Absolute(0.5, share.Share, 1e-12));
    });

    [Fact]
    public void A_fully_correlated_difference_leaves_nothing()
    {
        BudgetResult budget = UncertaintyBudget.Evaluate(
            [new("there", 0.1, 0.3), new("back", 0.1, 0.3) { Sensitivity = -1 }], [new Correlation("there", "back", 1)]).Value;

        Assert.Equal(0, budget.Combined);
        Assert.Equal(0, budget.Expanded);
        Assert.All(budget.Shares, share => Assert.Equal(0, share.Share));
    }

    [Fact]
    public void A_trapezoid_lies_between_its_triangle_and_its_rectangle() => Gen.Select(Gen.Double[0.01, 5], Gen.Double[0, 1]).Sample((half, top) =>
        Assert.InRange(
            new TrapezoidDistribution(0, half, top).StandardDeviation,
            new TriangularDistribution(0, half).StandardDeviation * (1 - 1e-12),
            new RectangularDistribution(0, half).StandardDeviation * (1 + 1e-12)));
}
