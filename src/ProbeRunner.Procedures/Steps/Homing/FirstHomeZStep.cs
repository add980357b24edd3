using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Steps.Homing;

/// <summary>Homes Z for the first time, a hand at the mains switch.</summary>
internal sealed class FirstHomeZStep : Step
{
    public override string Name => "first-home-z";

    public override string Title => "First home of Z";

    public override string Purpose => "The first time the machine trusts the probe with the nozzle. A person watches, a hand at the mains switch.";

    public override string WhatGoodLooksLike => "The nozzle goes to the bed's middle, comes down slowly, the probe touches, and everything stops with the nozzle above the bed.";

    public override Milestones Needs => Milestones.HomedXY | Milestones.ProbeTested;

    public override Milestones Gives => Milestones.HomedZ;

    public override bool NeedsPerson => true;

    public override bool IsGate => true;

    public override StepPlan Plan(MachineProfile profile) => new(Homings: 1, Questions: 2);

    /// <summary>No keys.</summary>
    public static Step Read(TomlSection section) => new FirstHomeZStep();

    internal override async Task<StepConclusion> RunAsync(StepContext context)
    {
        await context.HandsClearAsync(
            PromptIds.FirstHomeZHandsClear,
            "Z comes down until the probe touches the bed. Keep one hand at the mains switch and switch off if the nozzle reaches the bed. Paper out, the other hand clear?");
        await context.InSectionAsync("home Z", Retake.WhenInterrupted, null, () => context.DoAsync(new HomeAxes(Axes.Z)));
        Answer right = await context.AskAsync(Prompts.YesNo(
            PromptIds.FirstHomeZLooksRight,
            "Did the probe touch the bed, and does the nozzle stand above it?",
            "If the nozzle touched first, the probe sits too high or did not trigger."));
        return right.Value == "yes"
            ? Verdicts.Done("Z is homed by the probe.")
            : Verdicts.Failed(new Finding(
                "first-home-z.looked-wrong",
                "Z did not home as it should.",
                null,
                "Z axis",
                1,
                "The person at the machine saw the nozzle reach the bed, or no touch of the probe.",
                "Switch off. Check how low the extended probe reaches below the nozzle, its bracket and its plug; then begin again."));
    }
}
