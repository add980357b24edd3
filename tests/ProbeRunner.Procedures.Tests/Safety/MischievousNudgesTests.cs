using System.Collections.Concurrent;
using ProbeRunner.Machine.Guard;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;
using ProbeRunner.Procedures.Scripts;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Procedures.Tests.Safety;

/// <summary>A person who nudges the nozzle at every chance while a first layer is laid, and judges its patches anyhow.</summary>
public sealed class MischievousNudgesTests
{
    private const int People = 8;
    private const double RoundingMm = 1e-6;

    private static readonly RunScript Script = TestBench.Steps(
        "do = \"preflight\"\nquestions = false", "first-lift", "home-xy", "self-check", "first-home-z", "series", "do = \"step-down\"\ncold = true\ntakes = 1",
        "do = \"grid\"\ncolumns = 4\nrows = 4", "do = \"mesh\"\nany_conditions = true", "verify", "first-layer");

    [Fact]
    public void No_nudges_and_no_judgements_send_the_nozzle_below_half_the_layer_or_further_than_two_tenths_in_all()
    {
        var wrong = new ConcurrentQueue<string>();
        int taken = 0;
        Parallel.For(0, People, seed => VirtualTime.Run(async time =>
        {
            await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good", (ulong)seed + 1);
            var chance = new Random(seed);
            double bias = chance.NextDouble(); // from always farther to always closer
            bench.Person.Instead = prompt => prompt.Id == PromptIds.FirstLayerPatch ? prompt.Choices[chance.Next(prompt.Choices.Length)].Word : null;

            RunOutcome outcome = await bench.RunAsync(Script, engine => bench.Journal.Appended = _ =>
            {
                NudgeReply reply = engine.Control.Nudge(seed % 4 == 0 || chance.NextDouble() < bias ? NudgeDirection.Closer : NudgeDirection.Farther);
                if (reply == NudgeReply.Taken)
                {
                    Interlocked.Increment(ref taken);
                }
            });

            foreach (string broken in Broken(bench, outcome))
            {
                wrong.Enqueue($"{seed}: {broken}");
            }
        }));

        Assert.True(wrong.IsEmpty, string.Join('\n', wrong));
        Assert.True(taken > 10 * People, $"only {taken} nudges were taken");
    }

    private static IEnumerable<string> Broken(SimulatedBench bench, RunOutcome outcome)
    {
        if (outcome is not RunOutcome.Completed)
        {
            yield return outcome.Why;
        }

        double least = bench.Printer.Profile.FirstLayer.HeightMm / 2;
        (double carried, double here) = (0, 0);
        foreach (JournalEntry entry in bench.Journal.Entries.Where(entry => entry.Kind == EntryKind.Fact))
        {
            switch (JournalJson.Read<Request>(entry.Request))
            {
                case BeginLaying begin:
                    (carried, here) = (begin.NudgedMm, 0);
                    break;
                case LayLines lines:
                    double by = JournalJson.Read<LaidRow>(entry.Reply).NudgedMm;
                    here += by;
                    if (Math.Abs(by) > GuardLimits.LargestNudgeMm + RoundingMm || Math.Abs(carried + here) > GuardLimits.NudgeRangeMm + RoundingMm || lines.HeightMm + here < least - RoundingMm)
                    {
                        yield return FormattableString.Invariant($"row {entry.Ordinal}: nudged by {by:0.000}, {carried + here:0.000} in all, laid at {lines.HeightMm + here:0.000}");
                    }

                    break;
            }
        }

        foreach (var scratch in bench.Host.Truth.Scratches.Where(scratch => scratch.LengthMm > 0))
        {
            yield return FormattableString.Invariant($"a scratch {scratch.LengthMm:0.0} mm long and {scratch.DepthMm:0.000} deep");
        }

        foreach (var move in bench.Host.Truth.IllegalMoves)
        {
            yield return move.ToString();
        }
    }
}
