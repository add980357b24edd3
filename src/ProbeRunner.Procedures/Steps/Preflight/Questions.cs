using System.Collections.Immutable;
using ProbeRunner.Procedures.Operators;

namespace ProbeRunner.Procedures.Steps.Preflight;

/// <summary>What a careful technician asks before switching anything, each with its reason. Nothing moves while they are asked.</summary>
internal static class Questions
{
    private static readonly ImmutableArray<(string Id, string Text, string Why)> All =
    [
        (PromptIds.MainsInReach,
            "Is the mains switch in reach, and the machine switched on there, not only at its USB cable?",
            "The mains switch is the emergency stop: a busy controller may be late. And USB alone may power only the logic: the controller then answers while nothing moves."),
        (PromptIds.BedClean,
            "Look at the nozzle's tip and at the bed: are both clean, without a blob, crumb or finger mark?",
            "A blob under the nozzle or a crumb under the probe is measured as if it were the bed."),
        (PromptIds.ProbeTight,
            "Take hold of the probe and wiggle it: is it tight in its bracket, and the bracket tight on the head?",
            "A loose bracket is the commonest cause of readings that do not repeat."),
        (PromptIds.WiringClear,
            "Follow the probe's and the heaters' wires with your eyes, through the whole travel: are they clear of fans, belts and the nozzle?",
            "A cable that catches moves the probe, or tears."),
        (PromptIds.BedClear,
            "Is nothing on the bed but its plate, and are the clips where the machine's profile says, or off?",
            "The program keeps away from the clips it knows of, and from no others."),
        (PromptIds.BedLevelByHand,
            "Sight along the bed, and press its corners: is it level as far as an eye can tell, and firm?",
            "Up to a millimetre out of level is fine and is measured. A bed that is farther out may meet the nozzle on the way, and one that gives way can't be measured at all."),
    ];

    /// <summary>How many questions there are, the caution not counted.</summary>
    public static int Count => All.Length;

    /// <summary>Has the cautions acknowledged, then asks.</summary>
    /// <returns>What was not in order; null when all was.</returns>
    public static async Task<string?> AskAsync(StepContext context)
    {
        await context.AskAsync(Prompts.Acknowledge(
            PromptIds.Cautions,
            "Cautions. The nozzle burns and the bed gets hot. Moving axes pinch: keep hands, hair and sleeves away while anything moves. Mains voltage is inside: no covers off while plugged in. Never leave a heated machine alone. The maker's instructions and your local rules come first. A few questions follow; nothing moves meanwhile.",
            "You are about to move a machine that can hurt you."));
        foreach ((string id, string text, string why) in All)
        {
            Answer answer = await context.AskAsync(Prompts.YesNo(id, text, why));
            if (answer.Value != "yes")
            {
                return $"\"{text}\" was answered no. Put it right, then begin again.";
            }
        }

        return null;
    }
}
