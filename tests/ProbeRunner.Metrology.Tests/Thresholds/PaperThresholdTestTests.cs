using CsCheck;
using ProbeRunner.Campaigns;
using ProbeRunner.Metrology.Tests.Series;
using ProbeRunner.Metrology.Thresholds;

namespace ProbeRunner.Metrology.Tests.Thresholds;

public sealed class PaperThresholdTestTests
{
    [Fact]
    public void A_sharp_person_is_found_within_a_hundredth()
    {
        PaperThresholdTest test = PaperThresholdTest.Start(0, 0.2);
        while (!test.IsDone(0.01) && test.Answers < 100)
        {
            double height = test.NextHeight(0.005);
            test = test.With(height, height > 0.113 ? PaperAnswer.Free : height > 0.073 ? PaperAnswer.Drags : PaperAnswer.Pinched);
        }

        Assert.InRange(test.Estimate.ThresholdMm, 0.103, 0.123);
        Assert.InRange(test.Answers, 3, 25);
    }

    // Targets of the design; three standard deviations of a share of 95 % among 80 simulated people are left to chance.
    [Theory]
    [InlineData(0.01, 11)]
    [InlineData(0.02, 25)]
    [InlineData(0.03, 50)]
    public void After_11_25_and_50_prompts_95_percent_of_people_are_within_a_hundredth(double sigma, int prompts)
    {
        PaperTrials trials = PaperTrials.Of(new PaperPerson(sigma, 0.03), 80, 11, followOn: true, mostPrompts: prompts);
        Assert.InRange(trials.WithinAtEnd, 0.95 - (3 * Math.Sqrt(0.95 * 0.05 / 80)), 1);
    }

    [Fact]
    public void When_it_calls_itself_done_it_is_within_a_hundredth_for_nine_people_in_ten()
    {
        var chance = new Random(12);
        double within = 0;
        for (int i = 0; i < 40; i++)
        {
            var person = new PaperPerson(0.01 + (0.02 * chance.NextDouble()), 0.02 + (0.04 * chance.NextDouble()));
            within += PaperTrials.Of(person, 1, 500 + i).Within;
        }

        Assert.InRange(within / 40, 0.87, 1);
    }

    [Fact]
    public void Order_of_answers_does_not_matter() =>
        Gen.Select(Gen.Int[0, 20].Array[2, 12], Gen.Int[0, 9999]).Sample((steps, seed) =>
        {
            var person = new PaperPerson(0.02, 0.04);
            var chance = new Random(seed);
            (double Height, PaperAnswer Answer)[] answers = [.. steps.Select(s => (s * 0.01, person.Feel(chance, s * 0.01, 0.1)))];
            ThresholdEstimate there = All(answers);
            ThresholdEstimate back = All([.. answers.Reverse()]);
            Assert.Equal(there.ThresholdMm, back.ThresholdMm, 9);
            Assert.Equal(there.PersonSigmaMm, back.PersonSigmaMm, 9);

            static ThresholdEstimate All((double Height, PaperAnswer Answer)[] answers) => answers
                .Aggregate(PaperThresholdTest.Start(0, 0.2), (test, a) => test.With(a.Height, a.Answer)).Estimate;
        }, iter: 20);

    [Fact]
    public void Moving_the_window_moves_the_estimate_with_it()
    {
        (double, PaperAnswer)[] answers = [(0.15, PaperAnswer.Free), (0.10, PaperAnswer.Drags), (0.12, PaperAnswer.Free), (0.05, PaperAnswer.Pinched)];
        PaperThresholdTest here = PaperThresholdTest.Start(0, 0.2);
        PaperThresholdTest there = PaperThresholdTest.Start(-5, -4.8);
        foreach ((double height, PaperAnswer answer) in answers)
        {
            here = here.With(height, answer);
            there = there.With(height - 5, answer);
        }

        Assert.Equal(here.Estimate.ThresholdMm - 5, there.Estimate.ThresholdMm, 7);
        Assert.Equal(here.NextHeight(0.005) - 5, there.NextHeight(0.005), 9);
    }

    [Theory]
    [InlineData(PaperAnswer.Free)]
    [InlineData(PaperAnswer.Drags)]
    [InlineData(PaperAnswer.Pinched)]
    public void A_person_who_always_answers_the_same_gets_finite_numbers_and_heights_in_the_window(PaperAnswer always)
    {
        PaperThresholdTest test = PaperThresholdTest.Start(0, 0.2);
        for (int i = 0; i < 60; i++)
        {
            double height = test.NextHeight(0.005);
            Assert.InRange(height, -1e-9, 0.2 + 1e-9);
            test = test.With(height, always);
            FiniteNumbers.AssertAll(test.Estimate);
            Assert.InRange(test.Estimate.ThresholdMm, 0, 0.2);
        }
    }

    [Fact]
    public void Contradictory_answers_far_above_the_window_stay_finite()
    {
        PaperThresholdTest test = PaperThresholdTest.Start(0, 0.2);
        for (int i = 0; i < 600; i++)
        {
            test = test.With(10, i % 2 == 0 ? PaperAnswer.Pinched : PaperAnswer.Free);
        }

        FiniteNumbers.AssertAll(test.Estimate);
    }

    [Fact]
    public void Wrong_use_is_named()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => PaperThresholdTest.Start(0.2, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => PaperThresholdTest.Start(double.NaN, 0));
        PaperThresholdTest test = PaperThresholdTest.Start(0, 0.2);
        Assert.Throws<ArgumentOutOfRangeException>(() => test.With(double.NaN, PaperAnswer.Free));
        Assert.Throws<ArgumentOutOfRangeException>(() => test.With(0.1, (PaperAnswer)7));
        Assert.Throws<ArgumentOutOfRangeException>(() => test.NextHeight(0));
    }
}
