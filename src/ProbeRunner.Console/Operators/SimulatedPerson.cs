using System.Collections.Immutable;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.SimulatedPrinter.Senses;

namespace ProbeRunner.Console.Operators;

/// <summary>
/// A person who is not there: feels and looks through the senses channel of the simulated printer, knows no height,
/// and answers the rest as a careful person at a healthy machine would.
/// </summary>
internal sealed class SimulatedPerson(ISenses senses) : IOperator
{
    private const string SheetsInStack = "20";

    /// <summary>What was seen of the pin when it was pushed last.</summary>
    private bool _pinWentIn;

    /// <inheritdoc />
    public bool IsPresent => true;

    /// <inheritdoc />
    public async Task<Answer> AskAsync(Prompt prompt, CancellationToken cancel)
    {
        if (prompt.HandsClear)
        {
            await DoAsync("paper out", cancel);
            return new Answer(Answer.Continue);
        }

        switch (prompt.Id)
        {
            case PromptIds.SelfCheckPush:
                await DoAsync("finger next-descent", cancel);
                return new Answer(Answer.Continue);
            case PromptIds.SelfCheckMovedEachTime:
                return new Answer(await senses.AskAsync("look pin", cancel) == "retracted" ? "yes" : "no");
            case PromptIds.SelfCheckHold:
                await DoAsync("finger on", cancel);
                _pinWentIn = await senses.AskAsync("look pin", cancel) == "retracted";
                return new Answer(Answer.Continue);
            case PromptIds.SelfCheckLetGo:
                await DoAsync("finger off", cancel);
                return new Answer(Answer.Continue);
            case PromptIds.SelfCheckPulledItselfIn:
                return new Answer(_pinWentIn ? "yes" : "no");
            case PromptIds.AxisMovesX or PromptIds.AxisMovesY:
                return new Answer((await senses.AskAsync("look motion", cancel)).Split(' ')[^1]);
            case PromptIds.PreflightSwitchPressed:
                return new Answer(await senses.AskAsync($"look end {prompt.About}", cancel) == "there" ? "yes" : "no");
            case PromptIds.HaltTrialStopped:
                return new Answer(await senses.AskAsync("push head", cancel) == "free" ? "yes" : "no");
            case PromptIds.HaltTrialReset:
                await DoAsync("power cycle", cancel);
                return new Answer(Answer.Continue);
            case PromptIds.ProbeOffsetMethod:
                return new Answer("mark");
            case PromptIds.ProbeOffsetNozzleAtMark:
                return new Answer(await senses.AskAsync("look gap", cancel) == "touching" ? "touching" : "lower");
            case PromptIds.ProbeOffsetDraw:
                await DoAsync("mark here", cancel);
                return new Answer(Answer.Continue);
            case PromptIds.ProbeOffsetProbeAtMark:
                return new Answer(await senses.AskAsync("look mark", cancel));
            case PromptIds.Plate:
                return new Answer(await senses.AskAsync("look plate", cancel));
            case PromptIds.StepDownGauge:
                return new Answer("stack");
            case PromptIds.StepDownStackCount:
                return new Answer(SheetsInStack);
            case PromptIds.StepDownStackMm:
                return new Answer(await senses.AskAsync($"measure stack {SheetsInStack}", cancel));
            case PromptIds.StepDownWipe:
                await DoAsync("wipe nozzle", cancel);
                return new Answer(Answer.Continue);
            case PromptIds.StepDownPinUp or PromptIds.VerifyPinUp:
                return new Answer(await senses.AskAsync("look pin", cancel) == "retracted" ? "yes" : "no");
            case PromptIds.StepDownPaperIn or PromptIds.VerifyPaperIn or PromptIds.LeanPaperIn:
                await DoAsync("paper in", cancel);
                return new Answer(Answer.Continue);
            case PromptIds.StepDownPaper or PromptIds.VerifyPaper or PromptIds.LeanPaper:
                return new Answer(await senses.AskAsync("feel", cancel));
            case PromptIds.SelfCheckStoppedHigh:
                return new Answer(await senses.AskAsync("look gap", cancel) is "few-mm" or "wide" ? "yes" : "no");
            case PromptIds.VerifyGapFive:
                return await GapAsync(["few-mm"], cancel);
            case PromptIds.VerifyGapOne:
                return await GapAsync(["about-one-mm"], cancel);
            case PromptIds.FirstLiftWentUp:
                return new Answer(await senses.AskAsync("look motion", cancel) == "nozzle up" ? "yes" : "no");
            case PromptIds.GantryLevelEnds:
                return new Answer(await senses.AskAsync("look gantry", cancel));
            case PromptIds.GantryLevelTurn:
                await DoAsync($"lower gantry {prompt.About}", cancel);
                return new Answer(Answer.Continue);
            case PromptIds.ScrewsTurn:
                await DoAsync($"turn screw {prompt.About}", cancel);
                return new Answer("turned");
            case PromptIds.FirstLayerPatch:
                return new Answer(await senses.AskAsync($"look patch {prompt.About}", cancel) is var look and not "nothing" ? look : "skip");
        }

        return PromptIds.WhenAllIsWell.TryGetValue(prompt.Id, out var usual) ? new Answer(usual) : Safe(prompt);
    }

    private static Answer Safe(Prompt prompt) => prompt.Kind switch
    {
        PromptKind.Choice => new Answer(prompt.Choices[0].Word),
        PromptKind.Acknowledge => new Answer(Answer.Continue),
        _ => throw new OperatorGoneException($"The simulated person does not know what to answer to \"{prompt.Id}\"."),
    };

    private async Task<Answer> GapAsync(ImmutableArray<string> expected, CancellationToken cancel) =>
        new(expected.Contains(await senses.AskAsync("look gap", cancel)) ? "right" : "wrong");

    private async Task DoAsync(string verb, CancellationToken cancel)
    {
        var answer = await senses.AskAsync(verb, cancel);
        if (answer.StartsWith('?'))
        {
            throw new OperatorGoneException($"The simulated printer did not understand \"{verb}\": {answer}");
        }
    }
}
