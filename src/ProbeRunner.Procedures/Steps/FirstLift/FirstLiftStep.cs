using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Steps.FirstLift;

/// <summary>One bounded, upward-only lift before anything is homed.</summary>
internal sealed class FirstLiftStep(bool confirm) : Step
{
    public override string Name => "first-lift";

    public override string Title => "First lift";

    public override string Purpose => "Nothing is homed yet, so only one motion is safe: a short one upward. It takes the nozzle and the probe clear of the bed.";

    public override string WhatGoodLooksLike => "The nozzle rises a few millimetres, away from the bed, without a noise from the motors.";

    public override Milestones Gives => Milestones.Lifted;

    public override bool NeedsPerson => confirm;

    public override bool IsGate => true;

    public override StepPlan Plan(MachineProfile profile) => new(Motions: 1, Questions: 2);

    /// <summary>Key: <c>confirm</c>, whether a person says that it went up; true unless said otherwise.</summary>
    public static Step Read(TomlSection section) => new FirstLiftStep(section.Flag("confirm", true));

    internal override async Task<StepConclusion> RunAsync(StepContext context)
    {
        double lift = context.Profile.Travel.FirstLiftMm;
        await context.HandsClearAsync(PromptIds.FirstLiftHandsClear, FormattableString.Invariant($"The nozzle goes up by {lift:0.#} mm, and nothing else should move. Watch it. Paper out, hands clear?"));
        await context.InSectionAsync("lift", Retake.Continue, null, () => context.DoAsync(new LiftUnhomed(lift)));
        if (!confirm)
        {
            return Verdicts.Done("Lifted.");
        }

        Answer wentUp = await context.AskAsync(Prompts.YesNo(
            PromptIds.FirstLiftWentUp,
            "Did the nozzle move up, away from the bed?",
            "A motor that turns the wrong way would drive the nozzle into the bed at the next motion. Answer no if you are not sure: you are then asked what you saw."));
        if (wentUp.Value == "yes")
        {
            return Verdicts.Done("The nozzle went up.");
        }

        string did = (await context.AskAsync(Prompts.Choose(
            PromptIds.FirstLiftWhatItDid,
            "What did you see instead?",
            "Each has another cause.",
            ("other", "something else, or I am not sure"),
            ("nothing", "nothing moved"),
            ("down", "the nozzle went down")))).Value;
        return Verdicts.Failed(did switch
        {
            "nothing" => New(
                "nothing-moved",
                "Nothing moved when the nozzle was told to go up.",
                did,
                "The motor supply is probably off: USB alone may power only the logic, so that the controller answers while the motors stand still. Switch the machine on at its own switch, then begin again."),
            "down" => New(
                "wrong-way",
                "The nozzle went down when told to go up.",
                did,
                "Switch off. Turn round the direction of Z in the controller, or the Z motors' plugs; then begin again."),
            _ => New(
                "not-up",
                "The nozzle did not go up when told to.",
                did,
                "Switch off. Check that each motor has its own plug, and the Z motors' wiring and direction; then begin again."),
        });
    }

    private static Finding New(string id, string title, string saw, string next) =>
        new($"first-lift.{id}", title, null, "Z axis", 1, $"Told to lift; the person at the machine saw: {saw}.", next);
}
