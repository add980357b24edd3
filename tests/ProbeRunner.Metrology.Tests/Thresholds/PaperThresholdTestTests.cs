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
}
