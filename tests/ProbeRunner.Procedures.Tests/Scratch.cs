using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Time;
namespace ProbeRunner.Procedures.Tests;
public sealed class Scratch
{
    [Theory]
    [InlineData("good")]
    [InlineData("heron-good")]
    [InlineData("loose-probe")]
    public void Look(string scenario) => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, scenario);
        var outcome = await bench.RunAsync(TestBench.Script("commission"));
        File.WriteAllLines($"/tmp/journal-{scenario}.txt", bench.Journal.Entries.Select(e => $"{e.Ordinal} {e.At:hh\\:mm\\:ss\\.f} {e.Kind} {e.StepIndex} {e.Section} {e.Request} => {(e.Reply.Length > 1500 ? e.Reply[..1500] : e.Reply)}").Append(outcome.ToString())
            .Append($"truth {bench.Host.Truth.TriggerDistanceAt(120,120)} stored {bench.Host.Truth.StoredOffsetZ} scratches {string.Join(';', bench.Host.Truth.Scratches)} illegal {string.Join(';', bench.Host.Truth.IllegalMoves)}"));
        var trace = bench.Printer.GetType();
    });
}
