using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Steps.Homing;

/// <summary>Homes X and Y under a person's eyes.</summary>
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

    public override StepPlan Plan(MachineProfile profile) => new(Homings: 1, Questions: 2);

    /// <summary>No keys.</summary>
    public static Step Read(TomlSection section) => new HomeXyStep();

    internal override async Task<StepConclusion> RunAsync(StepContext context)
    {
        await context.HandsClearAsync(PromptIds.HomeXyHandsClear, "X and Y run to their end switches. Paper out, hands clear?");
        await context.InSectionAsync("home X and Y", Retake.WhenInterrupted, null, () => context.DoAsync(new HomeAxes(Axes.XY)));
        Answer right = await context.AskAsync(Prompts.YesNo(
            PromptIds.HomeXyLooksRight,
            "Did both axes run to their ends and stop there, without grinding?",
            "An axis that runs the wrong way or misses its switch puts every later place in the wrong spot."));
        return right.Value == "yes"
            ? Verdicts.Done("X and Y are homed.")
            : Verdicts.Failed(new Finding(
                "home-xy.looked-wrong",
                "X or Y did not home as it should.",
                null,
                "X and Y axes",
                1,
                "The person at the machine saw an axis run the wrong way, grind or miss its switch.",
                "Switch off. Check the end switches by hand, their plugs, and the motors' direction; then begin again."));
    }
}
