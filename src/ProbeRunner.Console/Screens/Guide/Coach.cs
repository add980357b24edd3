using ProbeRunner.Console.Screens.Running;

namespace ProbeRunner.Console.Screens.Guide;

/// <summary>What a first visitor is told while a run goes on: one hint for what is on the screen now.</summary>
internal static class Coach
{
    /// <summary>The hint.</summary>
    public static string Hint(IShownRun run) => run switch
    {
        { IsUnderWay: false } => "That was a whole run. Enter opens what it came to: findings first, evidence behind each.",
        { IsHeld: true } => "Held: the nozzle has lifted, the probe is in. F5 goes on after asking for clear hands; F7 would end the run so that it can be taken up again.",
        { Question.Prompt.HandsClear: true } => "The machine is about to move. At a real one: paper out, hands out, then Enter. Here nothing real moves.",
        { Question: not null } => "A question. Arrows choose, Enter answers, w says why it is asked. What the simulated bench would let you feel or see is marked.",
        { AnswersItself: true } => "The simulated person answers. a takes the answers back; t shows the wire; s says why this step is done.",
        { View.Step.Readings: > 0 } => "Each reading is one touch of the probe. The picture judges as they come: few are needed for a good probe, fewer for a bad one. Try F5 to hold.",
        { View.Step: not null } => "The machine works. On the left the steps; below them where nozzle and probe are. s says why this step is done.",
        _ => "The simulated printer is being started; nothing moves yet.",
    };
}
