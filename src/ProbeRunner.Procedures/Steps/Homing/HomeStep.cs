using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Steps.Homing;

/// <summary>Homes all axes of a machine whose probe is known to work.</summary>
internal sealed class HomeStep : Step
{
    public override string Name => "home";

    public override string Title => "Home all axes";

    public override string Purpose => "Every power-up and every homing sets Z = 0 anew; readings only mean something after it.";

    public override string WhatGoodLooksLike => "All axes home as they do before a print.";

    public override Milestones Needs => Milestones.Lifted;

    public override Milestones Gives => Milestones.HomedXY | Milestones.HomedZ;

    public override StepPlan Plan(MachineProfile profile) => new(Homings: 2, Questions: 1);

    /// <summary>No keys.</summary>
    public static Step Read(TomlSection section) => new HomeStep();

    internal override async Task<StepConclusion> RunAsync(StepContext context)
    {
        await context.HandsClearAsync(PromptIds.HomeHandsClear, "All axes are homed; the probe touches the bed. Paper out, hands clear?");
        return await context.InSectionAsync<StepConclusion>("home", Retake.WhenInterrupted, null, async () =>
        {
            await context.DoAsync(new HomeAxes(Axes.XY));
            await context.DoAsync(new HomeAxes(Axes.Z));
            return Verdicts.Done("All axes are homed.");
        });
    }
}
