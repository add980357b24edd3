using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Events;
using ProbeRunner.Procedures.Requests;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Procedures.Tests.Engine;

public sealed class ProgressTests
{
    [Fact]
    public void What_a_step_says_of_itself_counts_more_than_its_plan()
    {
        var progress = new ProgressMeter([new StepPlan(Touches: 2), new StepPlan(Touches: 1)]);
        progress.BeginStep(0);
        progress.Did(WorkKind.Touch, TimeSpan.FromSeconds(4));
        progress.Did(WorkKind.Touch, TimeSpan.FromSeconds(4));
        Assert.Equal(TimeSpan.FromSeconds(4), progress.Now.Left); // the step after it

        progress.StillToCome(WorkKind.Touch, 5);
        Assert.Equal(TimeSpan.FromSeconds(24), progress.Now.Left);

        progress.Did(WorkKind.Touch, TimeSpan.FromSeconds(4));
        Assert.Equal(TimeSpan.FromSeconds(20), progress.Now.Left);

        progress.BeginStep(1);
        Assert.Equal(TimeSpan.FromSeconds(4), progress.Now.Left);

        progress.End();
        Assert.Equal((1, TimeSpan.Zero), progress.Now);
    }

    [Fact]
    public void A_series_that_needs_more_readings_leaves_the_time_for_them() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        bench.Printer.TouchNoise = touch => touch % 2 == 0 ? 0.007 : -0.007; // between good and bad: many readings are needed

        await bench.RunAsync(TestBench.Steps("first-lift", "home", "series"));

        SeriesSoFar? judged = null;
        int compared = 0;
        foreach (RunEvent told in bench.Events)
        {
            judged = told is SeriesJudged { SoFar: var soFar } ? soFar : judged;
            if (told is ProgressMoved { Step: "series", TimeLeft: { } left } && judged is { StillNeeded: > 1 })
            {
                Assert.True(left > TimeSpan.Zero, $"{judged.StillNeeded} more readings and no time for them");
                compared++;
            }
        }

        Assert.True(compared > 20, $"only {compared} times");
    });
}
