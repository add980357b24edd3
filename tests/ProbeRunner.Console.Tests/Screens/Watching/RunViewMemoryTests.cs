using ProbeRunner.Console.Screens.Watching;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Procedures.Events;
using ProbeRunner.Procedures.Tests.Bench;

namespace ProbeRunner.Console.Tests.Screens.Watching;

/// <summary>What a long run leaves in memory; alone, so that no other test's memory is counted.</summary>
[Collection(Whole.TerminalTests.Name)]
public sealed class RunViewMemoryTests
{
    private static MachineProfile Wren => new ProfileCatalogue([TestBench.Folder]).Machine("wren-240");

    [Fact]
    public void Ten_minutes_of_a_hundred_events_a_second_leave_a_view_no_larger_than_one_minute_does()
    {
        RunView view = RunView.Of(TestBench.Script("map-bed"), Wren);
        int grid = view.Steps.Select((step, index) => (step, index)).First(pair => pair.step.Step.Name == "grid").index;
        view = view.After(new StepStarted(TimeSpan.Zero, "grid", "Grid capture", grid, view.Steps.Length));
        long afterOne = 0;
        for (int number = 1; number <= 60_000; number++)
        {
            TimeSpan at = TimeSpan.FromSeconds(number / 100.0);
            var place = new BedPoint((number * 37) % 240, (number * 91) % 240);
            view = number % 3 == 0 ? view.After(new Remarked(at, "grid", "one line more")) : view.After(new ReadingTaken(at, "grid", number, null, 1, new Reading(place, 2.2, default, 1, false)));
            afterOne = number == 12_000 ? Held(view) : afterOne;
        }

        Assert.Equal(RunView.LongestLog, view.Log.Count);
        Assert.Equal(20_001, view.Written);
        Assert.Equal(40_000, view.Steps[grid].Readings);
        Assert.InRange(Held(view) - afterOne, long.MinValue, 200_000);

        static long Held(RunView kept)
        {
            long held = GC.GetTotalMemory(forceFullCollection: true);
            GC.KeepAlive(kept);
            return held;
        }
    }
}
