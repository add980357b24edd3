using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Procedures.Tests.Safety;

/// <summary>A careful person who says "free" by mistake just where the paper drags for the first time.</summary>
public sealed class MistakenAnswerTests
{
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    public void One_free_by_mistake_at_every_place_of_a_lean_never_leads_a_tenth_into_the_bed(ulong seed) => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(
            time, "good", seed, change: good => good with { Person = good.Person with { LapseChance = 0 } });
        (int mistakes, bool isMade) = (0, false);
        bench.Person.Instead = prompt =>
        {
            isMade &= !prompt.HandsClear;
            if (prompt.Id != PromptIds.LeanPaper || isMade || bench.Host.Truth.GapMm > bench.Host.Scenario.Person.PaperMm - 0.01)
            {
                return null;
            }

            (mistakes, isMade) = (mistakes + 1, true);
            return "free";
        };

        await bench.RunAsync(TestBench.Script("check-lean"));

        Assert.InRange(mistakes, 2, 30);
        Assert.All(bench.Host.Truth.Scratches, scratch => Assert.True(scratch.DepthMm <= 0.10, $"{scratch.DepthMm:0.000} mm"));
        Assert.Empty(bench.Host.Truth.IllegalMoves);
    });
}
