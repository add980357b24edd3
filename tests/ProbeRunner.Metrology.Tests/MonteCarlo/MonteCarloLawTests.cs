using ProbeRunner.Metrology.Budgets;
using ProbeRunner.Metrology.MonteCarlo;
using ProbeRunner.Metrology.Results;
using ProbeRunner.Metrology.Tests.Budgets;

namespace ProbeRunner.Metrology.Tests.MonteCarlo;

public class MonteCarloLawTests
{
    private static readonly InputDistribution[] OneNormal = [new NormalDistribution(5, 2)];

    [Fact]
    public void The_same_seed_gives_the_same_result() =>
        Assert.Equal(MonteCarloPropagation.Run(x => x[0], OneNormal, 5000, new Random(7)), MonteCarloPropagation.Run(x => x[0], OneNormal, 5000, new Random(7)));

    [Fact]
    public void The_shortest_interval_holds_the_probability_and_is_never_wider_than_the_symmetric_one()
    {
        for (int seed = 0; seed < 20; seed++)
        {
            MonteCarloResult result = MonteCarloPropagation.Run(x => Math.Exp(x[0]), OneNormal, 20_000, new Random(seed), 0.9).Value;
            Assert.True(result.Shortest.Width <= result.Symmetric.Width);
            Assert.True(result.Shortest.Lower < result.Symmetric.Lower); // the law is skewed to the right
        }
    }

    [Fact]
    public void A_linear_model_of_normals_is_validated_against_its_budget()
    {
        MonteCarloResult draws = MonteCarloPropagation.Run(x => (2 * x[0]) - x[1], [new NormalDistribution(1, 0.3), new NormalDistribution(2, 0.5)], 1_000_000, new Random(5)).Value;
        BudgetResult budget = UncertaintyBudget.Evaluate([new("a", 1, 0.3) { Sensitivity = 2 }, new("b", 2, 0.5) { Sensitivity = -1 }]).Value;

        Assert.True(FrameworkValidation.Compare(budget, draws, 1).Agrees);
    }

    [Fact]
    public void An_adaptive_run_settles_at_the_tolerance_of_JCGM_101_7_9_2()
    {
        // 7.9.2: u = 2.0 to two significant digits is 20 x 10^-1, tolerance half of 10^-1.
        AdaptiveMonteCarloResult run = MonteCarloPropagation.RunAdaptively(x => x[0], OneNormal, 2, new Random(11)).Value;

        Assert.True(run.Settled);
        Close.Absolute(0.05, run.Tolerance, 1e-12);
        Close.Absolute(2, run.Result.StandardUncertainty, 0.05);
        Close.Absolute(1.96 * 4, run.Result.Shortest.Width, 0.15);
    }

    [Fact]
    public void An_adaptive_run_that_does_not_settle_says_so()
    {
        AdaptiveMonteCarloResult run = MonteCarloPropagation.RunAdaptively(x => x[0], OneNormal, 3, new Random(11), cap: 20_000).Value;

        Assert.False(run.Settled);
        Assert.Equal(20_000, run.Result.Draws);
    }

    [Fact]
    public void A_constant_model_has_no_uncertainty()
    {
        MonteCarloResult result = MonteCarloPropagation.Run(_ => 3, OneNormal, 1000, new Random(1)).Value;

        Assert.Equal((3.0, 0.0, 0.0), (result.Mean, result.StandardUncertainty, result.Shortest.Width));
    }

    [Theory]
    [InlineData(999, 0.95)]
    [InlineData(20_000_000, 0.95)]
    [InlineData(1000, 0)]
    [InlineData(1000, 1)]
    [InlineData(1000, double.NaN)]
    public void Parameters_outside_their_range_are_refused(int draws, double coverage) =>
        Assert.Equal(RefusalKind.OutOfRange, MonteCarloPropagation.Run(x => x[0], OneNormal, draws, new Random(1), coverage).Refusal!.Kind);

    [Fact]
    public void Inputs_and_models_without_an_answer_are_refused()
    {
        Assert.Equal(RefusalKind.TooFew, MonteCarloPropagation.Run(_ => 0, [], 1000, new Random(1)).Refusal!.Kind);
        Assert.Equal(RefusalKind.OutOfRange, MonteCarloPropagation.Run(x => x[0], [new StudentDistribution(0, 1, 2)], 1000, new Random(1)).Refusal!.Kind);
        Assert.Equal(RefusalKind.NotFinite, MonteCarloPropagation.Run(x => Math.Log(x[0]), [new NormalDistribution(0, 1)], 1000, new Random(1)).Refusal!.Kind);
        Assert.Equal(RefusalKind.OutOfRange, MonteCarloPropagation.RunAdaptively(x => x[0], OneNormal, 0, new Random(1)).Refusal!.Kind);
        Assert.Equal(RefusalKind.NotFinite, MonteCarloPropagation.RunAdaptively(_ => double.NaN, OneNormal, 1, new Random(1)).Refusal!.Kind);
    }
}
