using ProbeRunner.Campaigns;
using ProbeRunner.Metrology.Thresholds;

namespace ProbeRunner.Metrology.Tests.Thresholds;

public sealed class PersonRepeatabilityTests
{
    [Theory]
    [InlineData(0.01, 0.03)]
    [InlineData(0.02, 0.06)]
    [InlineData(0.03, 0.045)]
    public void A_simulated_person_s_own_scatter_lies_in_the_interval_and_near_the_figure(double sigma, double band)
    {
        const int People = 30;
        var found = Enumerable.Range(0, People).Select(seed => Judge(new PaperPerson(sigma, band), new Random(seed))).ToList();

        Assert.InRange(found.Count(one => one.LowerMm <= sigma && sigma <= one.UpperMm), 25, People); // 95 %, less three of its own standard deviations
        Assert.InRange(found.Select(one => one.SigmaMm).Order().ElementAt(People / 2), 0.75 * sigma, 1.3 * sigma);
    }

    [Fact]
    public void A_height_that_differs_between_takes_is_not_taken_for_the_person_s_scatter()
    {
        PersonRepeatability together = PersonRepeatability.Of([Sharp(0.1), Sharp(0.3)]).Value;

        Assert.True(together.SigmaMm < 0.012, $"{together.SigmaMm}");
    }

    [Fact]
    public void Too_few_answers_are_refused() => Assert.False(PersonRepeatability.Of([([new FeltAnswer(0.1, PaperAnswer.Free)], 0.1)]).IsKnown);

    private static PersonRepeatability Judge(PaperPerson person, Random chance) => PersonRepeatability.Of([Take(person, chance, 0.1), Take(person, chance, 0.12)]).Value;

    private static (IReadOnlyList<FeltAnswer>, double) Take(PaperPerson person, Random chance, double threshold)
    {
        PaperThresholdTest test = PaperThresholdTest.Start(threshold - 0.1, threshold + 0.1);
        var answers = new List<FeltAnswer>();
        while (answers.Count < 30)
        {
            double height = test.NextHeight(0.0025);
            answers.Add(new FeltAnswer(height, person.Feel(chance, height, threshold)));
            test = test.With(height, answers[^1].Felt);
        }

        return (answers, test.Estimate.ThresholdMm);
    }

    private static (IReadOnlyList<FeltAnswer>, double) Sharp(double threshold) => (
        [.. Enumerable.Range(-8, 16).Select(step => (step + 0.5) * 0.005).Select(over => new FeltAnswer(threshold + over, over > 0 ? PaperAnswer.Free : over > -0.03 ? PaperAnswer.Drags : PaperAnswer.Pinched))],
        threshold);
}
