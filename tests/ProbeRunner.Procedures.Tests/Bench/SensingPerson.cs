using ProbeRunner.Procedures.Operators;
using ProbeRunner.SimulatedPrinter.Senses;

namespace ProbeRunner.Procedures.Tests.Bench;

/// <summary>A person at the simulated machine, who knows nothing but what the senses tell.</summary>
internal sealed class SensingPerson(TimeProvider time, ISenses senses) : IOperator
{
    private bool _pinWentIn;

    public bool IsPresent { get; set; } = true;

    public List<string> Asked { get; } = [];

    /// <summary>Called before each answer.</summary>
    public Action<Prompt>? Before { get; set; }

    /// <summary>An answer to give in place of what the senses tell; null for none.</summary>
    public Func<Prompt, string?>? Instead { get; set; }

    /// <summary>How long this person takes.</summary>
    public Func<Prompt, TimeSpan> Pause { get; set; } = _ => TimeSpan.FromSeconds(3);

    public async Task<Answer> AskAsync(Prompt prompt, CancellationToken cancel)
    {
        Asked.Add(prompt.Id);
        Before?.Invoke(prompt);
        await Task.Delay(Pause(prompt), time, cancel);
        if (Instead?.Invoke(prompt) is { } other)
        {
            return new Answer(other);
        }

        if (prompt.HandsClear)
        {
            await senses.AskAsync("paper out", cancel);
        }

        return new Answer(prompt.Id switch
        {
            PromptIds.AxisMovesX or PromptIds.AxisMovesY => (await senses.AskAsync("look motion", cancel)).Split(' ')[^1],
            PromptIds.PreflightSwitchPressed => await senses.AskAsync($"look end {prompt.About}", cancel) == "there" ? "yes" : "no",
            PromptIds.HaltTrialStopped => await senses.AskAsync("push head", cancel) == "free" ? "yes" : "no",
            PromptIds.HaltTrialReset => await ContinueAfterAsync("power cycle"),
            PromptIds.Plate => await senses.AskAsync("look plate", cancel),
            PromptIds.StepDownGauge => "stack",
            PromptIds.StepDownStackCount => "20",
            PromptIds.StepDownStackMm => await senses.AskAsync("measure stack 20", cancel),
            PromptIds.StepDownWipe => await ContinueAfterAsync("wipe nozzle"),
            PromptIds.StepDownPinUp or PromptIds.VerifyPinUp => await senses.AskAsync("look pin", cancel) == "retracted" ? "yes" : "no",
            PromptIds.SelfCheckMovedEachTime => await senses.AskAsync("look pin", cancel) == "retracted" ? "yes" : "no",
            PromptIds.SelfCheckHold => await PushAsync(),
            PromptIds.SelfCheckLetGo => await ContinueAfterAsync("finger off"),
            PromptIds.SelfCheckPulledItselfIn => _pinWentIn ? "yes" : "no",
            PromptIds.StepDownPaper or PromptIds.VerifyPaper or PromptIds.LeanPaper => await senses.AskAsync("feel", cancel),
            PromptIds.StepDownPaperIn or PromptIds.VerifyPaperIn or PromptIds.LeanPaperIn => await ContinueAfterAsync("paper in"),
            PromptIds.SelfCheckPush => await ContinueAfterAsync("finger next-descent"),
            PromptIds.GantryLevelEnds => await senses.AskAsync("look gantry", cancel),
            PromptIds.GantryLevelTurn => await ContinueAfterAsync($"lower gantry {prompt.About}"),
            PromptIds.ScrewsTurn => await senses.AskAsync($"turn screw {prompt.About}", cancel) == "ok" ? "turned" : "call-off",
            PromptIds.ProbeOffsetMethod => "mark",
            PromptIds.ProbeOffsetNozzleAtMark => await senses.AskAsync("look gap", cancel) == "touching" ? "touching" : "lower",
            PromptIds.ProbeOffsetDraw => await ContinueAfterAsync("mark here"),
            PromptIds.ProbeOffsetProbeAtMark => await senses.AskAsync("look mark", cancel),
            PromptIds.FirstLayerPatch => await senses.AskAsync($"look patch {prompt.About}", cancel) is var look and not "nothing" ? look : "skip",
            PromptIds.FirstLiftWentUp => await senses.AskAsync("look motion", cancel) == "nozzle up" ? "yes" : "no",
            PromptIds.VerifyGapFive => await senses.AskAsync("look gap", cancel) == "few-mm" ? "right" : "wrong",
            PromptIds.VerifyGapOne => await senses.AskAsync("look gap", cancel) == "about-one-mm" ? "right" : "wrong",
            PromptIds.SelfCheckStoppedHigh => await senses.AskAsync("look gap", cancel) is "few-mm" or "wide" ? "yes" : "no",
            _ when prompt.Kind == PromptKind.Acknowledge => Answer.Continue,
            _ => PromptIds.WhenAllIsWell[prompt.Id],
        });

        async Task<string> PushAsync()
        {
            await ContinueAfterAsync("finger on");
            _pinWentIn = await senses.AskAsync("look pin", cancel) == "retracted";
            return Answer.Continue;
        }

        async Task<string> ContinueAfterAsync(string act)
        {
            string did = await senses.AskAsync(act, cancel);
            return did == "ok" ? Answer.Continue : throw new InvalidOperationException($"\"{act}\" could not be done: {did}");
        }
    }
}
