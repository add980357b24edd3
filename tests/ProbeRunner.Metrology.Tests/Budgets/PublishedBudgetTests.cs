using ProbeRunner.Metrology.Budgets;

namespace ProbeRunner.Metrology.Tests.Budgets;

/// <summary>Budgets whose answers were published, or were computed with R 4.2.2 from the formulas of JCGM 100:2008.</summary>
public class PublishedBudgetTests
{
    [Fact]
    public void End_gauge_gives_the_length_and_uncertainty_of_JCGM_100_H_1()
    {
        // JCGM 100:2008 H.1: 50 000 838 nm, 32 nm; unrounded 31.66387911 by R 4.2.2.
        ModelBudgetResult result = ModelBudget.Evaluate(EndGauge.Model, EndGauge.Inputs, coverageProbability: 0.99).Value;

        Close.Absolute(50_000_838, result.Budget.Value, 0.5);
        Close.Relative(31.66387911, result.Budget.Combined, 1e-9);
        Close.Relative(9.681941954, EndGauge.DifferenceUncertainty, 1e-9);
        double[] contributions = [25, 5.8, 3.9, 6.7, 0, 2.887, 0, 0, 16.599];
        for (int i = 0; i < contributions.Length; i++)
        {
            Close.Absolute(contributions[i], result.Budget.Shares[i].Uncertainty, 1e-3);
        }
    }

    [Fact]
    public void End_gauge_gives_the_effective_degrees_of_freedom_and_expanded_uncertainty_of_JCGM_100_H_1_6()
    {
        // H.1.6 with its rounded comparator line: 16.7518557 by R 4.2.2 (one line d with 25.447 degrees of freedom gives the same);
        // truncated to 16, t.995 = 2.920781622, 93 nm in the Guide.
        BudgetResult budget = ModelBudget.Evaluate(EndGauge.Model, EndGauge.Inputs, coverageProbability: 0.99).Value.Budget;

        Close.Relative(16.7518557, budget.EffectiveDegreesOfFreedom!.Value, 1e-7);
        Close.Relative(2.920781622, budget.CoverageFactor, 1e-9);
        Close.Absolute(93, budget.Expanded, 1);
    }

    [Fact]
    public void A_standard_of_exactly_50_mm_gives_the_values_of_a_published_evaluation()
    {
        // Test of a national laboratory's open uncertainty library (MSLNZ/GTC, test_uncertain_real_dof.py): 31.6637674111, 16.7521475092.
        Contribution[] inputs = [EndGauge.Inputs[0] with { Estimate = 5e7 }, .. EndGauge.Inputs.Skip(1)];
        BudgetResult budget = ModelBudget.Evaluate(EndGauge.Model, inputs).Value.Budget;

        Close.Relative(31.6637674111, budget.Combined, 1e-9);
        Close.Relative(16.7521475092, budget.EffectiveDegreesOfFreedom!.Value, 1e-8);
    }

    [Fact]
    public void Second_order_terms_add_what_JCGM_100_H_1_7_says()
    {
        // H.1.7: 11.7 nm and 1.7 nm, giving 34 nm; unrounded 11.72618551, 1.666687433 and 33.80654543 by R 4.2.2.
        ModelBudgetResult result = ModelBudget.Evaluate(EndGauge.Model, EndGauge.Inputs).Value;

        // Third derivatives of a function of size 5e7 are known to eight digits in double precision.
        Close.Relative(33.80654543, result.CombinedToSecondOrder, 1e-8);
        double expansionAndTemperature = result.SecondOrderTerms
            .Where(term => term.First == "difference of expansion" || term.Second == "difference of expansion")
            .Sum(term => term.Variance);
        Close.Relative(11.72618551, Math.Sqrt(expansionAndTemperature), 1e-7);
        SecondOrderTerm other = Assert.Single(result.SecondOrderTerms, term => term.First == "expansion of standard");
        Assert.Equal("difference of temperature", other.Second);
        Close.Relative(1.666687433, Math.Sqrt(other.Variance), 1e-6);
    }

    [Fact]
    public void Two_contributions_give_the_effective_degrees_of_freedom_of_a_course_example()
    {
        // Course example in the tests of sandialabs/suncal: 0.57 with 9 degrees of freedom and 0.25 with none stated give 12.8.
        BudgetResult budget = UncertaintyBudget.Evaluate(
            [new("a", 0, 0.57) { DegreesOfFreedom = 9 }, new("b", 0, 0.25)]).Value;

        Close.Relative(12.7956, budget.EffectiveDegreesOfFreedom!.Value, 1e-5);
    }

    [Fact]
    public void A_ratio_gives_the_values_of_a_course_example()
    {
        // Course example in the tests of sandialabs/suncal: .6967, .00494, 27.7; unrounded by R 4.2.2.
        BudgetResult budget = ModelBudget.Evaluate(
            x => x[0] / x[1] * x[2],
            [
                new("a", 0.1820, 0.00093) { DegreesOfFreedom = 9 },
                new("b", 0.1823, 0.00058) { DegreesOfFreedom = 19 },
                new("c", 0.6978, 0.0026) { DegreesOfFreedom = 19 },
            ]).Value.Budget;

        Close.Relative(0.696651673, budget.Value, 1e-9);
        Close.Relative(0.0049318020, budget.Combined, 1e-8);
        Close.Relative(27.5127, budget.EffectiveDegreesOfFreedom!.Value, 1e-5);
    }

    [Fact]
    public void A_gap_budget_in_micrometres_gives_the_shares_computed_with_R()
    {
        // JCGM 100:2008 G.4, computed with R 4.2.2: own synthetic budget.
        BudgetResult budget = UncertaintyBudget.Evaluate(
        [
            new("touch", 0, 2.0 / Math.Sqrt(10)) { DegreesOfFreedom = 9 },
            Contribution.FromDistribution("paper", new RectangularDistribution(0, 10)).Value,
            Contribution.FromDistribution("step", new RectangularDistribution(0, 2.5)).Value,
            new("drag", 0, 3.0) { DegreesOfFreedom = 4 },
            new("datum", 0, 1.5) { DegreesOfFreedom = 20 },
        ]).Value;

        Close.Relative(6.86051504383, budget.Combined, 1e-11);
        Close.Relative(107.951932, budget.EffectiveDegreesOfFreedom!.Value, 1e-8);
        Close.Relative(1.98238337, budget.CoverageFactor, 1e-8);
        Close.Relative(13.6001709, budget.Expanded, 1e-8);
        double[] percent = [0.849858, 70.821530, 4.426346, 19.121813, 4.780453];
        Assert.All(percent.Zip(budget.Shares), pair => Close.Absolute(pair.First, 100 * pair.Second.Share, 1e-6));
    }

    [Fact]
    public void Thermal_expansion_gives_the_value_of_NIST_TN_1900_E13()
    {
        // NIST TN 1900, example E13, inputs as in the tests of sandialabs/suncal; u 1.76e-6 there.
        BudgetResult budget = ModelBudget.Evaluate(
            x => (x[1] - x[0]) / (x[0] * (x[3] - x[2])),
            [
                new("L0", 1.4999, 0.0001) { DegreesOfFreedom = 3 },
                new("L1", 1.5021, 0.0002) { DegreesOfFreedom = 3 },
                new("T0", 288.15, 0.02) { DegreesOfFreedom = 3 },
                new("T1", 373.10, 0.05) { DegreesOfFreedom = 3 },
            ]).Value.Budget;

        Close.Relative(1.726620896e-05, budget.Value, 1e-9);
        Close.Absolute(1.76e-6, budget.Combined, 0.005e-6);
    }

    [Fact]
    public void A_logarithm_to_first_order_gives_the_values_of_NPL_DEM_ES_011_9_2()
    {
        // NPL report DEM-ES-011, 9.2: y = ln x, x rectangular from .1 to 1.1: -.511, .481.
        BudgetResult budget = ModelBudget.Evaluate(
            x => Math.Log(x[0]), [Contribution.FromDistribution("x", new RectangularDistribution(0.6, 0.5)).Value]).Value.Budget;

        Close.Absolute(-0.510826, budget.Value, 1e-6);
        Close.Absolute(0.481125, budget.Combined, 1e-6);
    }

    [Theory]
    [InlineData(1, 12.70620473617)]
    [InlineData(2, 4.302652729749)]
    [InlineData(4, 2.776445105198)]
    [InlineData(9, 2.262157162798)]
    [InlineData(24, 2.063898561628)]
    [InlineData(49, 2.009575237129)]
    [InlineData(99, 1.984216951586)]
    [InlineData(null, 1.95996398454)]
    public void Coverage_factors_are_the_t_quantiles_of_R(int? degreesOfFreedom, double expected) =>
        Close.Relative(expected, CoverageFactor.For(0.95, degreesOfFreedom).Value, 1e-11); // R 4.2.2 qt and qnorm
}
