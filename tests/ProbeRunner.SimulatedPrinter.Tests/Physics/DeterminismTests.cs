using ProbeRunner.SimulatedPrinter.Faults;
using ProbeRunner.SimulatedPrinter.Scenarios;

namespace ProbeRunner.SimulatedPrinter.Tests.Physics;

public class DeterminismTests
{
    [Fact]
    public void The_same_seed_gives_the_same_readings_and_another_seed_others()
    {
        var first = Readings(seed: 3, FaultPlan.None);
        Assert.Equal(first, Readings(seed: 3, FaultPlan.None));
        Assert.NotEqual(first, Readings(seed: 4, FaultPlan.None));
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(5)]
    public void One_bad_byte_in_a_tenth_of_the_lines_sent_shifts_no_reading(ulong faultSeed)
    {
        var plan = new FaultPlan { Seed = faultSeed, BadByteToController = 0.1 };
        Assert.Equal(Readings(seed: 3, FaultPlan.None), Readings(seed: 3, plan));
    }

    [Fact]
    public void Polling_temperatures_in_between_shifts_no_reading() =>
        Assert.Equal(Readings(seed: 3, FaultPlan.None), Readings(seed: 3, FaultPlan.None, polls: 5));

    [Fact]
    public void A_power_cut_leaves_the_noise_that_is_still_to_come_as_it_was()
    {
        List<double> through = [];
        List<double> cut = [];
        foreach (var (readings, cuts) in new[] { (through, false), (cut, true) })
        {
            Bench.Run(Bench.Good() with { Seed = 9 }, async bench =>
            {
                await bench.HomeAsync();
                await bench.TouchAsync(100, 100);
                if (cuts)
                {
                    bench.Printer.PowerCycle();
                    await bench.ReadToAsync(line => line == "echo:settings loaded");
                }

                await bench.HomeAsync();
                await bench.TouchAsync(100, 100);
                readings.AddRange(bench.Truth.Touches.Select(touch => Math.Round(touch.MeasuredZ - touch.TrueZ, 2)));
            });
        }

        Assert.Equal(through.Count, cut.Count);
        Assert.All(through.Zip(cut), pair => Assert.Equal(pair.First, pair.Second, 0.011));
    }

    private static List<double> Readings(ulong seed, FaultPlan plan, int polls = 0)
    {
        List<double> measured = [];
        Bench.Run(
            ScenarioFile.Load("warped") with { Seed = seed },
            async bench =>
            {
                await bench.SendNumberedAsync("M140 S60");
                await bench.SendNumberedAsync("G28");
                for (var index = 0; index < 30; index++)
                {
                    await bench.SendNumberedAsync(FormattableString.Invariant($"G30 X{30 + (index % 6 * 30)} Y{30 + (index / 6 * 40)}"));
                    for (var poll = 0; poll < polls; poll++)
                    {
                        await bench.SendNumberedAsync("M105");
                    }
                }

                measured = [.. bench.Truth.Touches.Select(touch => touch.MeasuredZ)];
                Assert.Equal(32, measured.Count);
            },
            plan);
        return measured;
    }
}
