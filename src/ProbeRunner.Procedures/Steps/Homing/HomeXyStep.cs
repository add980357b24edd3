using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Steps.Homing;

/// <summary>Homes X, then Y, each under a person's eyes.</summary>
internal sealed class HomeXyStep : Step
{
    public override string Name => "home-xy";

    public override string Title => "Home X and Y";

    public override string Purpose => "The machine must know where the nozzle is before it goes anywhere over the bed.";

    public override string WhatGoodLooksLike => "Each axis runs to its end, touches its switch once or twice and stands still.";

    public override Milestones Needs => Milestones.Lifted;

    public override Milestones Gives => Milestones.HomedXY;

    public override bool NeedsPerson => true;

    public override bool IsGate => true;

    public override StepPlan Plan(MachineProfile profile) => new(Homings: 2, Questions: 4);

    /// <summary>No keys.</summary>
    public static Step Read(TomlSection section) => new HomeXyStep();

    internal override async Task<StepConclusion> RunAsync(StepContext context)
    {
        string along = context.Profile.Bed.MovesAlongY ? "the bed runs towards you or away from you" : "the head runs towards you or away from you";
        return await HomeAsync(context, Axes.X, PromptIds.HomeXHandsClear, PromptIds.HomeXLooksRight, "the head runs to the left or to the right")
            ?? await HomeAsync(context, Axes.Y, PromptIds.HomeYHandsClear, PromptIds.HomeYLooksRight, along)
            ?? Verdicts.Done("X and Y are homed, each seen by a person.");
    }

    /// <returns>What went wrong; null when the axis is homed.</returns>
    private static async Task<StepConclusion?> HomeAsync(StepContext context, Axes axis, string handsId, string looksId, string moves)
    {
        await context.HandsClearAsync(handsId, $"{axis} is homed: the nozzle may lift first, then {moves}, until a switch at the end stops it. Watch which way it goes; switch off at the mains if it grinds or misses the switch. Paper out, hands clear?");
        await context.InSectionAsync($"home {axis}", Retake.WhenInterrupted, null, () => context.DoAsync(new HomeAxes(axis)));
        Answer right = await context.AskAsync(Prompts.YesNo(
            looksId,
            $"Did {axis}, and only {axis}, run to the end where its switch is, press it and stop there without grinding?",
            "An axis that runs the wrong way or misses its switch puts every later place in the wrong spot. Answer no if you are not sure: you are then asked what you saw."));
        if (right.Value == "yes")
        {
            return null;
        }

        string did = (await context.AskAsync(Prompts.Choose(
            PromptIds.HomeXyWhatItDid,
            "What did you see instead?",
            "Each has another cause.",
            ("other", "something else, or I am not sure"),
            ("nothing", "nothing moved"),
            ("wrong-way", "it ran away from its switch"),
            ("grinding", "it ran on against the end, grinding"),
            ("another-axis", "another axis moved")))).Value;
        return Verdicts.Failed(new Finding(
            $"home-xy.{axis.ToString().ToLowerInvariant()}-looked-wrong", $"{axis} did not home as it should.", null, $"{axis} axis", 1, $"The person at the machine saw: {did}.", Next(did)));
    }

    private static string Next(string did) => did switch
    {
        "nothing" => "Check that the motor supply is on: USB alone may power only the logic, and then the controller answers while nothing moves. Then the motor's plug. Begin again.",
        "wrong-way" => "Switch off. Turn round the axis' direction in the controller, or the motor's plug; then begin again.",
        "grinding" => "Switch off. Press the end switch by hand and look in the preflight whether the controller sees it: its plug, its place, or its sense is wrong.",
        "another-axis" => "Switch off. Two motors' plugs are mixed up; give each its own and begin again.",
        _ => "Switch off. Check the end switches by hand, their plugs, and the motors' direction; then begin again.",
    };
}
