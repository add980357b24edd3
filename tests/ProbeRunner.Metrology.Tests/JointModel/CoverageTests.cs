using ProbeRunner.Benchmarks.Campaigns;

namespace ProbeRunner.Metrology.Tests.JointModel;

/// <summary>The campaign of the same name on few beds; its own table is on 200.</summary>
public sealed class CoverageTests
{
    [Fact]
    public void The_maps_intervals_cover_what_they_say()
    {
        double[] sixteen = CoverageCampaign.Parts(5000, 40, 4), fortyNine = CoverageCampaign.Parts(5000, 40, 7);

        Assert.InRange(sixteen.Concat(fortyNine).Average(), 0.93, 0.985);
        Assert.InRange(CoverageCampaign.WorstTwentieth(fortyNine), 0.65, 1);
    }
}
