using System.Collections.Immutable;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Steps.SelfCheck;

/// <summary>What was seen while the probe was brought out and in.</summary>
/// <param name="Looks">States of its switch.</param>
/// <param name="ExtendSeconds">How long it took to come out, each time.</param>
/// <param name="Failures">How often the controller said that it did not move.</param>
/// <param name="Faulty">Cycles in which something was wrong.</param>
/// <param name="Said">What the controller said last of a failure.</param>
internal sealed record ProbeCycles(ImmutableArray<ProbeLook> Looks, ImmutableArray<double> ExtendSeconds, int Failures, int Faulty, string Said);

/// <summary>Moves the probe and looks at its switch: by itself, and while a person pushes it. Nothing else moves.</summary>
internal sealed class ProbeTrial(StepContext context, ProbeWords words)
{
    /// <summary>A loose contact shows in one look out of several.</summary>
    private const int LooksEach = 3;

    /// <summary>Brings the probe out and in, its switch read before, out and in.</summary>
    public Task<ProbeCycles> CycleAsync(int cycles) => context.InSectionAsync("cycles", Retake.WhenInterrupted, null, async () =>
    {
        var looks = ImmutableArray.CreateBuilder<ProbeLook>();
        var seconds = ImmutableArray.CreateBuilder<double>();
        (int failures, int faulty, string said) = (0, 0, string.Empty);
        for (int cycle = 1; cycle <= cycles; cycle++)
        {
            looks.AddRange(await LookAsync(LookMoment.Before, words.Moves ? 1 : 0));
            ProbeMove outward = await MoveAsync(isOut: true);
            ImmutableArray<ProbeLook> free = await LookAsync(LookMoment.Out, LooksEach);
            if (!outward.Moved)
            {
                await context.DoAsync(new ClearProbeFault());
            }

            ProbeMove inward = await MoveAsync(isOut: false);
            looks.AddRange(free);
            looks.AddRange(await LookAsync(LookMoment.In, words.Moves ? 1 : 0));
            seconds.Add(outward.Seconds);
            bool isFaulty = !outward.Moved || !inward.Moved || free.Any(look => look.State == ProbeState.Triggered);
            (failures, faulty) = (failures + (outward.Moved && inward.Moved ? 0 : 1), faulty + (isFaulty ? 1 : 0));
            said = outward.Said.Length > 0 ? outward.Said : inward.Said.Length > 0 ? inward.Said : said;
            context.Remark(FormattableString.Invariant($"Cycle {cycle} of {cycles}: {(isFaulty ? "something is wrong" : "as it should be")}."));
        }

        return new ProbeCycles(looks.ToImmutable(), seconds.ToImmutable(), failures, faulty, said);
    });

    /// <summary>Has the person trigger the probe by hand and let go, so that its switch is seen both ways. Nothing moves meanwhile.</summary>
    public Task<ImmutableArray<ProbeLook>> PushAsync(int push, int pushes) => context.InSectionAsync(FormattableString.Invariant($"push {push}"), Retake.WhenInterrupted, null, async () =>
    {
        string times = pushes == 1 ? string.Empty : FormattableString.Invariant($" (push {push} of {pushes})");
        var looks = ImmutableArray.CreateBuilder<ProbeLook>();
        await MoveAsync(isOut: true);
        await context.AskAsync(Prompts.Acknowledge(
            PromptIds.SelfCheckHold,
            $"Nothing moves now. {words.Trigger} Confirm while you hold it{times}; the program then looks whether the controller sees it.",
            "A probe is known to work when it was seen both ways, triggered and not, with your hand deciding which."));
        looks.AddRange(await LookAsync(LookMoment.Pushed, LooksEach));
        await context.AskAsync(Prompts.Acknowledge(
            PromptIds.SelfCheckLetGo, $"{words.LetGo} Then confirm; the program looks again.", "A probe that stays triggered would begin its next touch too high."));
        looks.AddRange(await LookAsync(LookMoment.LetGo, LooksEach));
        if (words.Moves)
        {
            await context.DoAsync(new ClearProbeFault());
            looks.AddRange(await LookAsync(LookMoment.Cleared, 1));
            await MoveAsync(isOut: false);
        }

        return looks.ToImmutable();
    });

    private async Task<ProbeMove> MoveAsync(bool isOut) => words.Moves ? await context.DoAsync(new TryProbe(isOut)) : new ProbeMove(true, string.Empty, 0);

    private async Task<ImmutableArray<ProbeLook>> LookAsync(LookMoment moment, int times)
    {
        var looks = ImmutableArray.CreateBuilder<ProbeLook>(times);
        for (int look = 0; look < times; look++)
        {
            looks.Add(new ProbeLook(moment, await context.DoAsync(new ReadProbe())));
        }

        return looks.ToImmutable();
    }
}
