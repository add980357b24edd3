using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Steps.Homing;

/// <summary>X and Y each make a short move that the person names the direction of, without having been told it.</summary>
internal sealed class AxisMovesStep : Step
{
    private const double MoveMm = 20;

    private static readonly TimeSpan Pause = TimeSpan.FromSeconds(2);

    public override string Name => "axis-moves";

    public override string Title => "Each axis seen to move the right way";

    public override string Purpose => "Homing only shows that an axis finds its switch. An axis that then goes the other way, or two that are mixed up, would mirror every map and send the probe off the bed.";

    public override string WhatGoodLooksLike => "The head goes the way that the axis counts: you name the direction, and it is the one that was sent.";

    public override Milestones Needs => Milestones.HomedXY | Milestones.HomedZ | Milestones.ProbeTested;

    public override bool NeedsPerson => true;

    public override bool IsGate => true;

    public override StepPlan Plan(MachineProfile profile) => new(Motions: 4, Questions: 4);

    /// <summary>No keys.</summary>
    public static Step Read(TomlSection section) => new AxisMovesStep();

    internal override async Task<StepConclusion> RunAsync(StepContext context)
    {
        bool bedMoves = context.Profile.Bed.MovesAlongY;
        BedPoint middle = Middle(context.Profile.Travel.Nozzle);
        await context.HandsClearAsync(
            PromptIds.AxisMovesXHandsClear,
            "The head goes over the middle of the bed, waits two seconds, then makes one short move. Watch which way that last move goes; you will be asked. Paper out, hands clear?");
        await context.InSectionAsync("along X", Retake.WhenInterrupted, null, () => MoveAsync(context, middle, middle with { X = middle.X + MoveMm }));
        string x = (await context.AskAsync(Prompts.Choose(
            PromptIds.AxisMovesX,
            "Which way did the last move go, as you stand before the machine?",
            "If it is not the way that was sent, the run stops here. Say what you saw, not what should have been.",
            ("nothing", "nothing moved"),
            ("left", "the head went to the left"),
            ("right", "the head went to the right"),
            ("other", "something else moved")))).Value;
        if (x != "right")
        {
            return Verdicts.Failed(WrongFinding("X", "to the right", x));
        }

        string part = bedMoves ? "bed" : "head";
        await context.HandsClearAsync(
            PromptIds.AxisMovesYHandsClear, $"Now the same for the other direction: back to the middle, two seconds, then one short move of the {part}. Paper out, hands clear?");
        await context.InSectionAsync("along Y", Retake.WhenInterrupted, null, () => MoveAsync(context, middle, middle with { Y = middle.Y + MoveMm }));
        string y = (await context.AskAsync(Prompts.Choose(
            PromptIds.AxisMovesY,
            "Which way did the last move go, as you stand before the machine?",
            bedMoves ? "Here the bed moves, and the nozzle gets farther back over it by the bed coming towards you." : "Say what you saw, not what should have been.",
            ("nothing", "nothing moved"),
            ("front", $"the {part} came towards you"),
            ("back", $"the {part} went away from you"),
            ("other", "something else moved")))).Value;
        return y == (bedMoves ? "front" : "back")
            ? Verdicts.Done("X and Y go the way they count.")
            : Verdicts.Failed(WrongFinding("Y", bedMoves ? "towards you" : "away from you", y));
    }

    private static async Task<Done> MoveAsync(StepContext context, BedPoint from, BedPoint to)
    {
        await context.DoAsync(new LiftToClearance());
        await context.DoAsync(new MoveNozzle(from));
        await context.DoAsync(new StandStill(Pause));
        return await context.DoAsync(new MoveNozzle(to));
    }

    private static BedPoint Middle(BedRectangle travel) => new(Math.Round((travel.MinX + travel.MaxX) / 2), Math.Round((travel.MinY + travel.MaxY) / 2));

    private static Finding WrongFinding(string axis, string sent, string seen) => seen == "nothing"
        ? New(axis, $"{axis} did not move.", $"It was sent {sent}; the person saw nothing move.", "Switch off. Check that the motor supply is on (USB alone may power only the logic), then the motor's plug and the belt; then begin again.")
        : New(axis, $"{axis} goes another way than it counts.", $"It was sent {sent}; the person saw: {seen}.", "Switch off. Turn round the axis' direction in the controller, or give its motor back its own plug; then begin again, homing first.");

    private static Finding New(string axis, string title, string evidence, string next) =>
        new($"axis-moves.{axis.ToLowerInvariant()}-wrong", title, null, $"{axis} axis", 1, evidence, next);
}
