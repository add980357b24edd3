using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Steps.Restoring;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Procedures.Tests.Safety;

/// <summary>On every way out that is not a store, the controller has the settings and switches that the run found, whichever it found.</summary>
public sealed class SettingsAsFoundTests
{
    private static readonly string[] Script =
    [
        "do = \"preflight\"\nquestions = false", "first-lift", "home-xy", "self-check", "first-home-z",
        "do = \"series\"\nmost_readings = 30", "do = \"touch-tuning\"", "do = \"step-down\"\ncold = true\ntakes = 1",
        "do = \"grid\"\ncolumns = 4\nrows = 4", "mesh", "verify",
    ];

    /// <summary>Kinds of fact right after which the run is left: travel limits off, offset, mesh or feed written and not stored, hot, correction switched.</summary>
    private static readonly string[] Moments =
        ["limit-z-feed", "switch-soft-limits", "open-step-down", "declare-contact", "write-probe-offset", "write-mesh", "switch-mesh-correction"];

    public static TheoryData<string, string> Exits
    {
        get
        {
            var exits = new TheoryData<string, string>();
            foreach (string moment in Moments)
            {
                foreach (string exit in new[] { "stop", "operator gone", "cable" })
                {
                    exits.Add(moment, exit);
                }
            }

            return exits;
        }
    }

    [Theory]
    [MemberData(nameof(Exits))]
    public void Whatever_ends_a_run_the_settings_are_as_it_found_them(string moment, string exit) => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");
        SettingsSeen before = SettingsSeen.Of(bench.Host.Truth);
        await LeaveAsync(bench, moment, exit);
        if (exit == "cable")
        {
            await bench.ReconnectAsync();
            await bench.RunAsync(TestBench.Steps(Script), engine => engine.Control.Stop());
        }

        Assert.Equal(before, SettingsSeen.Of(bench.Host.Truth));
        Assert.Empty(bench.Host.Truth.IllegalMoves);
    });

    [Theory]
    [InlineData("stop")]
    [InlineData("cable")]
    public void Travel_limits_and_correction_that_were_otherwise_are_left_otherwise(string exit) => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");
        await bench.Printer.SetSoftLimitsAsync(false, default);
        await bench.ReconnectAsync();
        await LeaveAsync(bench, "open-step-down", exit);
        if (exit == "cable")
        {
            await bench.ReconnectAsync();
            await bench.RunAsync(TestBench.Steps(Script), engine => engine.Control.Stop());
        }

        Assert.False(bench.Host.Truth.SoftLimitsOn);
    });

    [Fact]
    public void Restore_puts_back_what_a_run_without_a_way_out_left_switched() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");
        SettingsSeen before = SettingsSeen.Of(bench.Host.Truth);
        await LeaveAsync(bench, "switch-soft-limits", "cable");
        Assert.False(bench.Host.Truth.SoftLimitsOn);
        RestoreParameters back = RestoreParameters.Of("run-1", bench.Conclusion<PreflightConclusion>(), [.. bench.Journal.Entries]);
        bench.Journal.Entries.Clear();
        await bench.ReconnectAsync();
        bench.Person.Instead = prompt => prompt.Id == PromptIds.RestoreConfirm ? "put-back" : null;

        RunOutcome outcome = await bench.RunAsync(back.Script());

        Assert.True(outcome is RunOutcome.Completed { Verdict.State: VerdictWord.Fit }, outcome.Why);
        Assert.Equal(before, SettingsSeen.Of(bench.Host.Truth));
    });

    private static async Task LeaveAsync(SimulatedBench bench, string moment, string exit)
    {
        bool isLeft = false;
        bench.Person.Before = _ =>
        {
            if (isLeft && exit == "operator gone")
            {
                throw new OperatorGoneException("Nobody is there.");
            }
        };
        RunOutcome outcome = await bench.RunAsync(TestBench.Steps(Script), engine => bench.Journal.Appended = entry =>
        {
            if (isLeft || entry.Kind != EntryKind.Fact || !entry.Request.Contains($"\"{moment}\"", StringComparison.Ordinal))
            {
                return;
            }

            isLeft = true;
            switch (exit)
            {
                case "stop":
                    engine.Control.Stop();
                    break;
                case "cable":
                    bench.Host.PullCable();
                    break;
            }
        });

        Assert.True(isLeft, $"{moment} never came: {outcome.Why}");
        Assert.False(exit != "operator gone" && outcome is RunOutcome.Completed, outcome.Why);
        bench.Person.Before = null;
        bench.Journal.Appended = null;
    }
}
