using CsCheck;
using ProbeRunner.Metrology.Conformity;
using ProbeRunner.Metrology.Results;
using ProbeRunner.Metrology.Tests.Budgets;

namespace ProbeRunner.Metrology.Tests.Conformity;

/// <summary>The examples of JCGM 106:2012; digits beyond the printed ones computed with R 4.2.2.</summary>
public class ConformityTests
{
    private static readonly PriorDistribution Process = PriorDistribution.Gamma(4, 4).Value;
    private static readonly Limits TwoMicrometres = Limits.Below(2);

    [Fact]
    public void A_breakdown_voltage_conforms_with_the_probability_of_7_3() =>
        Close.Relative(0.9192433408, ConformityProbability.Of(-5.47, 0.05, Limits.Below(-5.40)).Value.Inside, 1e-9); // prints .92

    [Fact]
    public void A_process_has_the_global_risks_of_9_5_4()
    {
        GlobalRisks risks = GlobalRisks.Of(Process, 0.25, TwoMicrometres, TwoMicrometres).Value;

        Close.Relative(0.04238011199, risks.Nonconforming, 1e-9); // prints 4.2 % and .8 %
        Close.Relative(0.008019111884, risks.ConsumerRisk, 1e-8);
        Close.Relative(0.01744456923, risks.ProducerRisk, 1e-8);
    }

    [Fact]
    public void Rejecting_negative_readings_too_raises_the_producers_risk() => Close.Relative(
        0.03130952487, GlobalRisks.Of(Process, 0.25, TwoMicrometres, Limits.Between(0, 2)).Value.ProducerRisk, 1e-8);

    [Fact]
    public void A_consumer_risk_of_a_thousandth_needs_the_guard_band_of_9_5_4()
    {
        GuardBand band = GuardBand.ForConsumerRisk(Process, 0.25, TwoMicrometres, 0.001).Value;

        Close.Relative(1.671828772, band.Acceptance.Upper!.Value, 1e-8);
        Close.Relative(0.328171228, band.Width, 1e-7);
        Assert.Null(band.Acceptance.Lower);
        Close.Relative(0.07598348, GlobalRisks.Of(Process, 0.25, TwoMicrometres, Limits.Below(1.67)).Value.ProducerRisk, 1e-6);
    }

    [Fact]
    public void A_guard_band_of_two_standard_uncertainties_leaves_the_specific_risk_of_8_3()
    {
        GuardBand band = GuardBand.ForSpecificRisk(0.25, TwoMicrometres, 0.02275013195).Value;

        Close.Relative(0.5, band.Width, 1e-8);
        Close.Relative(0.02275013195, ConformityProbability.Of(1.5, 0.25, TwoMicrometres).Value.AboveUpper, 1e-9);
    }

    [Fact]
    public void The_three_probabilities_add_up_to_one() =>
        Gen.Select(Gen.Double[-3, 3], Gen.Double[0, 2], Gen.Double[0.01, 4], Gen.Int[0, 30]).Sample((estimate, uncertainty, width, freedom) =>
        {
            ConformityProbability answer = ConformityProbability.Of(
                estimate, uncertainty, Limits.Between(-width, width), freedom == 0 ? null : freedom).Value;
            Close.Absolute(1, answer.Inside + answer.BelowLower + answer.AboveUpper, 1e-12);
        });

    [Fact]
    public void Few_degrees_of_freedom_make_a_safe_looking_answer_less_certain() => Assert.True(
        ConformityProbability.Of(0, 1, Limits.Between(-2, 2), 3).Value.Inside < ConformityProbability.Of(0, 1, Limits.Between(-2, 2)).Value.Inside - 0.05);

    [Theory]
    [InlineData(1.9, 1)]
    [InlineData(2.1, 0)]
    public void Without_uncertainty_the_answer_is_yes_or_no(double estimate, double expected) =>
        Assert.Equal(expected, ConformityProbability.Of(estimate, 0, TwoMicrometres).Value.Inside);

    [Fact]
    public void Risks_agree_with_drawing_items_and_readings()
    {
        // Drawn directly: 400,000 items of a rectangular process, two-sided tolerance, guarded acceptance.
        PriorDistribution prior = PriorDistribution.Rectangular(-1.5, 1.5).Value;
        GlobalRisks risks = GlobalRisks.Of(prior, 0.3, Limits.Between(-1, 1), Limits.Between(-0.8, 0.9)).Value;
        var chance = new Random(9);
        int consumer = 0;
        int producer = 0;
        const int Items = 400_000;
        for (int i = 0; i < Items; i++)
        {
            double truth = -1.5 + (3 * chance.NextDouble());
            double reading = MathNet.Numerics.Distributions.Normal.Sample(chance, truth, 0.3);
            bool accepted = reading is >= -0.8 and <= 0.9;
            consumer += accepted && Math.Abs(truth) > 1 ? 1 : 0;
            producer += !accepted && Math.Abs(truth) <= 1 ? 1 : 0;
        }

        Close.Absolute((double)consumer / Items, risks.ConsumerRisk, 0.001);
        Close.Absolute((double)producer / Items, risks.ProducerRisk, 0.002);
    }

    [Fact]
    public void A_sharp_measurement_of_a_wide_process_has_next_to_no_risk()
    {
        GlobalRisks risks = GlobalRisks.Of(PriorDistribution.Normal(0, 1).Value, 1e-7, Limits.Between(-1, 1), Limits.Between(-1, 1)).Value;

        // Small uncertainty: each risk tends to density at the limits times u / sqrt(2 pi), from both limits.
        double expected = 2 * MathNet.Numerics.Distributions.Normal.PDF(0, 1, 1) * 1e-7 / Math.Sqrt(2 * Math.PI);
        Close.Relative(expected, risks.ConsumerRisk, 1e-4);
        Close.Relative(expected, risks.ProducerRisk, 1e-4);
    }

    [Fact]
    public void A_guard_band_meets_the_risk_it_was_made_for() => Gen.Select(Gen.Double[0.05, 0.5], Gen.Double[0.0005, 0.02]).Sample(
        (uncertainty, target) =>
        {
            PriorDistribution prior = PriorDistribution.Normal(0, 0.6).Value;
            Limits tolerance = Limits.Between(-1, 1);
            GuardBand band = GuardBand.ForConsumerRisk(prior, uncertainty, tolerance, target).Value;
            Close.Relative(target, GlobalRisks.Of(prior, uncertainty, tolerance, band.Acceptance).Value.ConsumerRisk, 1e-6);
        },
        iter: 100);

    [Fact]
    public void A_capability_index_is_a_quarter_of_tolerance_over_uncertainty()
    {
        Close.Relative(4, ConformityProbability.CapabilityIndex(Limits.Between(-0.08, 0.08), 0.01).Value, 1e-12);
        Assert.Equal(RefusalKind.OutOfRange, ConformityProbability.CapabilityIndex(TwoMicrometres, 0.01).Refusal!.Kind);
    }

    [Fact]
    public void Bad_inputs_are_refused()
    {
        Assert.Equal(RefusalKind.OutOfRange, ConformityProbability.Of(double.NaN, 1, TwoMicrometres).Refusal!.Kind);
        Assert.Equal(RefusalKind.OutOfRange, ConformityProbability.Of(0, -1, TwoMicrometres).Refusal!.Kind);
        Assert.Equal(RefusalKind.OutOfRange, ConformityProbability.Of(0, 1, new Limits(null, null)).Refusal!.Kind);
        Assert.Equal(RefusalKind.OutOfRange, ConformityProbability.Of(0, 1, Limits.Between(2, 1)).Refusal!.Kind);
        Assert.Equal(RefusalKind.OutOfRange, GlobalRisks.Of(Process, 0, TwoMicrometres, TwoMicrometres).Refusal!.Kind);
        Assert.Equal(RefusalKind.OutOfRange, PriorDistribution.Gamma(0.5, 1).Refusal!.Kind);
        Assert.Equal(RefusalKind.OutOfRange, PriorDistribution.Normal(0, 0).Refusal!.Kind);
        Assert.Equal(RefusalKind.OutOfRange, PriorDistribution.Rectangular(1, 1).Refusal!.Kind);
        Assert.Equal(RefusalKind.OutOfRange, GuardBand.ForSpecificRisk(1, TwoMicrometres, 0.7).Refusal!.Kind);
        Assert.Equal(RefusalKind.Undetermined, GuardBand.ForSpecificRisk(1, Limits.Between(-1, 1), 0.02).Refusal!.Kind);
        Assert.Equal(RefusalKind.Undetermined, GuardBand.ForConsumerRisk(Process, 0.25, TwoMicrometres, 0.4).Refusal!.Kind);
        Assert.Equal(RefusalKind.Undetermined, GuardBand.ForConsumerRisk(PriorDistribution.Normal(0, 5).Value, 5, Limits.Between(-1, 1), 1e-12).Refusal!.Kind);
    }
}
