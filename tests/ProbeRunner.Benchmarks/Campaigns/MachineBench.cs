using ProbeRunner.Campaigns;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Scripts;
using ProbeRunner.SimulatedPrinter.Hosting;
using ProbeRunner.SimulatedPrinter.Scenarios;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Benchmarks.Campaigns;

/// <summary>Runs a script on an in-process simulated machine on virtual time, with somebody who confirms everything, and gives what a step concluded.</summary>
internal static class MachineBench
{
    /// <summary>The step's conclusion beside the machine it was reached on.</summary>
    /// <exception cref="InvalidOperationException">The run did not complete.</exception>
    public static TResult Run<TConclusion, TResult>(Scenario scenario, RunScript script, Func<TConclusion, SimulatedPrinterHost, TResult> take, Func<SimulatedPrinterHost, string, Task<string?>>? answer = null)
        where TConclusion : StepConclusion => VirtualTime.Run(async time =>
    {
        await using CampaignMachine machine = await CampaignMachine.StartAsync(time, scenario);
        return take(await RunOnAsync<TConclusion>(machine, time, script, answer), machine.Host);
    });

    /// <summary>A run on a machine that is there already: the last conclusion of a type.</summary>
    /// <exception cref="InvalidOperationException">The run did not complete.</exception>
    public static async Task<TConclusion> RunOnAsync<TConclusion>(CampaignMachine machine, TimeProvider time, RunScript script, Func<SimulatedPrinterHost, string, Task<string?>>? answer = null)
        where TConclusion : StepConclusion
    {
        var journal = new PlainJournal(machine.Host.Scenario.Seed);
        RunOutcome outcome = await new RunEngine(machine.Printer, new Agreeing(machine.Host, answer), journal, script, time, new RunOptions("campaign", Simulated: true)).RunAsync();
        return outcome is RunOutcome.Completed && journal.Conclusion<TConclusion>() is { } found ? found : throw new InvalidOperationException(outcome.Why);
    }

    /// <summary>A script of steps, each a name or the lines of its table.</summary>
    public static RunScript Steps(params string[] steps) => RunScript.Parse(
        "title = \"campaign\"\n" + string.Concat(steps.Select(step => $"[[step]]\n{(step.Contains('=', StringComparison.Ordinal) ? step : $"do = \"{step}\"")}\n")), "campaign");

    private sealed class Agreeing(SimulatedPrinterHost host, Func<SimulatedPrinterHost, string, Task<string?>>? answer) : IOperator
    {
        public bool IsPresent => true;

        public async Task<Answer> AskAsync(Prompt prompt, CancellationToken cancel) => new(
            (answer is null ? null : await answer(host, prompt.Id))
            ?? await ActAsync(prompt)
            ?? (prompt.Kind == PromptKind.Acknowledge ? Answer.Continue : PromptIds.WhenAllIsWell.GetValueOrDefault(prompt.Id) ?? prompt.Choices[0].Word));

        /// <summary>What hands do at the machine; null where they do nothing or the usual answer follows.</summary>
        private async Task<string?> ActAsync(Prompt prompt)
        {
            if (prompt.Id == PromptIds.ScrewsTurn)
            {
                return await host.AskAsync($"turn screw {prompt.About}") == "ok" ? "turned" : "call-off";
            }

            string? act = prompt.Id switch
            {
                PromptIds.SelfCheckPush => "finger next-descent",
                PromptIds.SelfCheckHold => "finger on",
                PromptIds.SelfCheckLetGo => "finger off",
                _ => null,
            };
            _ = act is null ? string.Empty : await host.AskAsync(act);
            return null;
        }
    }
}
