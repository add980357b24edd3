using ProbeRunner.Machine.Heat;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Steps.SilenceTrial;

/// <summary>
/// Shows, with a person at the machine, that the controller switches its heaters off by itself when the computer goes silent. Everything
/// else that guards a heated machine runs on the computer, which can lose power, sleep or be unplugged.
/// </summary>
internal sealed class SilenceTrialStep(SilenceTrialParameters parameters) : Step
{
    public override string Name => "silence-trial";

    public override string Title => "Heaters when the computer is silent";

    public override string Purpose => "A computer can lose power, sleep or be unplugged while nobody is there; then only the controller itself can switch the heaters off.";

    public override string WhatGoodLooksLike => "Both heaters are warm before the silence; after it the controller says that both are off.";

    public override bool NeedsPerson => true;

    public override bool Heats => true;

    public override StepPlan Plan(MachineProfile profile) => new(Questions: 1, Exchanges: 5);

    public override string? WhyImpossible(MachineProfile profile) =>
        parameters.NozzleCelsius > profile.Heat.NozzleCapCelsius || parameters.BedCelsius > profile.Heat.BedCapCelsius
            ? "its temperatures are above this machine's caps; set nozzle_celsius and bed_celsius lower."
            : null;

    public static Step Read(TomlSection section) => new SilenceTrialStep(SilenceTrialParameters.Read(section));

    internal override async Task<StepConclusion> RunAsync(StepContext context)
    {
        await context.AskAsync(Prompts.Acknowledge(
            PromptIds.SilenceTrialReady,
            FormattableString.Invariant($"Nozzle and bed are set to {parameters.NozzleCelsius:0} and {parameters.BedCelsius:0} degC, then this computer says nothing for {parameters.Silence.TotalSeconds:0} s. Stay at the machine, a hand near the mains switch, until it is over."),
            "The trial shows whether the machine becomes safe when the computer dies; until it has, you are what makes it safe. Keep to the maker's instructions for heated machines."));
        return await context.InSectionAsync("trial", Retake.WhenInterrupted, null, () => TryAsync(context));
    }

    private async Task<StepConclusion> TryAsync(StepContext context)
    {
        ControllerIdentity controller = await context.DoAsync(new Identify());
        await context.DoAsync(new SetHeaterTargets(parameters.NozzleCelsius, parameters.BedCelsius));
        Temperatures before = await context.DoAsync(new ReadTemperatures());
        if (before.NozzleTargetCelsius <= 0 || before.BedTargetCelsius <= 0)
        {
            throw new StepFailedException("The controller did not take the heaters' targets, so nothing can be tried. Heaters go off now. Check the machine's wiring and its caps.");
        }

        context.Remark(FormattableString.Invariant($"Silent for {parameters.Silence.TotalSeconds:0} s from now on."));
        await context.DoAsync(new KeepSilent(parameters.Silence));
        Temperatures after = await context.DoAsync(new ReadTemperatures());
        await context.DoAsync(new SetHeaterTargets(0, 0));
        return Judge(controller, after);
    }

    private SilenceTrialConclusion Judge(ControllerIdentity controller, Temperatures after)
    {
        double seconds = parameters.Silence.TotalSeconds;
        if (after.HeatersOff)
        {
            return new SilenceTrialConclusion(
                Verdicts.Fit(FormattableString.Invariant($"After {seconds:0} s of silence the controller had switched both heaters off by itself.")), [], controller, seconds, SwitchedOff: true);
        }

        var finding = new Finding(
            "silence-trial.stays-hot",
            "The controller keeps its heaters on when the computer goes silent.",
            null,
            "controller",
            1,
            FormattableString.Invariant($"After {seconds:0} s of silence it still said nozzle target {after.NozzleTargetCelsius:0}, bed target {after.BedTargetCelsius:0} degC."),
            "Never heat this machine with nobody there: if the computer lost power, it would stay hot. Where the controller has such a limit, switch it on, following its maker's instructions, and try again.");
        return new SilenceTrialConclusion(Verdicts.NotFit(finding.Title), [finding], controller, seconds, SwitchedOff: false);
    }
}
