using System.Collections.Immutable;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Steps.Preflight;

/// <summary>Looks the machine over before anything moves: cautions, questions, what the controller says, what contradicts the profile.</summary>
internal sealed class PreflightStep(bool questions) : Step
{
    public override string Name => "preflight";

    public override string Title => "Preflight";

    public override string Purpose => "Most calibrations fail for something that could be seen beforehand. Nothing moves yet.";

    public override string WhatGoodLooksLike => "Every question answered yes, and the controller's settings agree with the machine's profile.";

    public override Milestones Gives => Milestones.LookedOver;

    public override bool NeedsPerson => questions;

    public override bool IsGate => true;

    public override StepPlan Plan(MachineProfile profile) => new(Questions: questions ? Questions.Count + 1 : 0, Exchanges: 9);

    /// <summary>Key: <c>questions</c>, whether a person is asked; true unless said otherwise. Without them the step suits unattended runs.</summary>
    public static Step Read(TomlSection section) => new PreflightStep(section.Flag("questions", true));

    internal override async Task<StepConclusion> RunAsync(StepContext context)
    {
        MachineAsFound found = await MachineAsFound.ReadAsync(context);
        await context.DoAsync(new ReadTemperatures());
        context.Remark(FormattableString.Invariant($"The controller is \"{found.Controller.MachineName}\", {found.Controller.Firmware}; probe offset {found.Offset.X:0.00}, {found.Offset.Y:0.00}, {found.Offset.Z:0.000} mm; mesh correction {OnOff(found.Look.MeshCorrectionOn)}; travel limits {OnOff(found.Look.SoftLimitsOn)}."));

        var findings = new List<Finding>();
        string? refusal = questions ? await Questions.AskAsync(context) : null;
        if (found.ProbeTriggered && context.Profile.Probe.Kind != ProbeKind.Docked) // one that hangs in its dock may well read so
        {
            findings.Add(TriggeredFinding(found.Switches));
            refusal ??= questions ? null : "the probe reads triggered before anything touches it.";
        }

        if (refusal is null && questions && await WronglyPressedAsync(context, found) is { } pressed)
        {
            findings.Add(pressed);
            refusal = pressed.Title;
        }

        ImmutableArray<Finding> contradictions = Contradictions.Between(context.Profile, found);
        findings.AddRange(contradictions);
        foreach (Finding contradiction in contradictions)
        {
            context.Warn($"{contradiction.Title} {contradiction.Evidence}");
        }

        if (contradictions.Length > 0 && questions && refusal is null && await StopsForAsync(context, contradictions))
        {
            refusal = contradictions[0].Title;
        }

        return new PreflightConclusion(
            refusal is null ? Verdicts.Fit("Nothing speaks against beginning.") : Verdicts.NotFit($"Not begun: {refusal}"),
            [.. findings, .. Contradictions.Notes(found)],
            found.Controller,
            found.Settings,
            found.Offset,
            found.Mesh,
            found.Look.MeshCorrectionOn,
            found.Look.SoftLimitsOn,
            found.Limits,
            found.Switches);
    }

    /// <returns>A switch that reads triggered although the person sees that nothing presses it; null when there is none.</returns>
    private static async Task<Finding?> WronglyPressedAsync(StepContext context, MachineAsFound found)
    {
        foreach (string name in found.Pressed)
        {
            Answer stands = await context.AskAsync(Prompts.YesNo(
                PromptIds.PreflightSwitchPressed,
                $"The controller says that the switch \"{name}\" is pressed. Look at it: does that axis stand at its end, against the switch?",
                "If nothing presses it, its plug is out, its wire broken or its sense the wrong way round: the axis would not find its end.") with
            { About = name });
            if (stands.Value != "yes")
            {
                return new Finding(
                    "preflight.switch-pressed", $"The switch \"{name}\" reads triggered, and nothing presses it.", null, name, 1,
                    "The controller says triggered; the person sees that the axis does not stand there.",
                    "Check its plug and wire, then its sense in the controller's settings: pressing it by hand must change what is reported.");
            }
        }

        return null;
    }

    private static async Task<bool> StopsForAsync(StepContext context, ImmutableArray<Finding> contradictions)
    {
        string each = string.Join(" ", contradictions.Select((finding, at) => FormattableString.Invariant($"({at + 1}) {finding.Title} {finding.Evidence} {finding.Next}")));
        Answer answer = await context.AskAsync(Prompts.Choose(
            PromptIds.Contradiction,
            $"Profile and controller disagree. {each} Go on all the same?",
            "What the program takes for safe rests on the profile. Where the two disagree, one of them is wrong about this machine.",
            ("stop", "stop and put it right"),
            ("go-on", "go on, I know why")));
        return answer.Value == "stop";
    }

    private static Finding TriggeredFinding(ImmutableSortedDictionary<string, ProbeState> switches) => new(
        "preflight.probe-triggered",
        "The probe reads triggered before anything touches it.",
        null,
        "probe",
        1,
        $"Switches: {string.Join(", ", switches.Select(pair => $"{pair.Key} {(pair.Value == ProbeState.Triggered ? "triggered" : "open")}"))}.",
        "Look whether it touches something or holds a fault. If not, its self-check in the air tells whether it is stuck or reversed; nothing trusts it before.");

    private static string OnOff(bool? on) => on switch { true => "on", false => "off", null => "not reported" };
}
