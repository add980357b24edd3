using ProbeRunner.Machine.Printers;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Faults;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Procedures.Tests.Steps;

/// <summary>A tenth of the lines from the controller carry one bad byte; replies have no checksum, so a changed digit can look right.</summary>
public sealed class DamagedRepliesTests
{
    /// <summary>Extension and touch noise and a step stay far below this; another place's reading, or a changed leading digit, does not.</summary>
    private const double FarOffMm = 0.05;

    [Fact]
    public void Every_run_ends_and_every_accepted_reading_is_that_of_its_place()
    {
        const int Runs = 16; // a longer calibration meets more damage and ends earlier, so that more runs are needed
        const int EnoughToMeanSomething = 100;
        int readings = Enumerable.Range(1, Runs).Sum(seed => VirtualTime.Run(time => ReadingsAsync(time, (ulong)seed)));

        Assert.InRange(readings, EnoughToMeanSomething, int.MaxValue);
    }

    private static async Task<int> ReadingsAsync(TimeProvider time, ulong seed)
    {
        var faults = new FaultPlan { Seed = seed, BadByteFromController = 0.1 };
        await using SimulatedBench bench = await SimulatedBench.StartAsync(
            time, "good", faults: faults, options: new PrinterOptions { ConfirmEveryReading = true });

        RunOutcome outcome = await bench.RunAsync(TestBench.Script("commission"));

        Assert.True(outcome is RunOutcome.Completed or RunOutcome.Faulted, outcome.Why);
        Assert.Empty(WrongReadings(bench));
        Assert.All(bench.Host.Truth.Scratches, scratch => Assert.True(scratch.DepthMm <= 0.10));
        Assert.Empty(bench.Host.Truth.IllegalMoves);
        return Touches(bench).Count();
    }

    private static IEnumerable<Reading> WrongReadings(SimulatedBench bench)
    {
        foreach (var epoch in Touches(bench).GroupBy(reading => reading.DatumEpoch))
        {
            var off = epoch.Select(reading => (reading, By: reading.Z - bench.Host.Truth.ReadingAt(reading.Place.X, reading.Place.Y))).ToList();
            double middle = off.Select(one => one.By).Order().ElementAt(off.Count / 2);
            foreach (var (reading, _) in off.Where(one => Math.Abs(one.By - middle) > FarOffMm))
            {
                yield return reading;
            }
        }
    }

    private static IEnumerable<Reading> Touches(SimulatedBench bench) => bench.Journal.Entries
        .Where(entry => entry.Kind == EntryKind.Fact && entry.Request.Contains($"\"{FactKinds.Touch}\"", StringComparison.Ordinal))
        .Select(entry => JournalJson.Read<Reading>(entry.Reply));
}
