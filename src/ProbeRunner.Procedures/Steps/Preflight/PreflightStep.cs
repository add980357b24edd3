using System.Collections.Immutable;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Settings;
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
    private static readonly ImmutableArray<(string Id, string Text, string Why)> Questions =
    [
        (PromptIds.MainsInReach, "Is the mains switch in reach, and is the machine's motor supply on?", "It is the emergency stop: a busy controller may be late. USB alone may power only the logic."),
        (PromptIds.BedClean, "Are nozzle tip and bed clean?", "A blob under the nozzle or a crumb under the probe is measured as if it were the bed."),
        (PromptIds.ProbeTight, "Is the probe tight in its bracket, and the bracket tight on the carriage?", "A loose bracket is the commonest cause of readings that do not repeat."),
        (PromptIds.WiringClear, "Is all wiring clear of fans, belts and the nozzle, through the whole travel?", "A cable that catches moves the probe, or tears."),
        (PromptIds.BedClear, "Is nothing on the bed but its plate, and are the clips where the machine's profile says?", "The guard keeps away from the clips it knows of, and from no others."),
    ];

    public override string Name => "preflight";

    public override string Title => "Preflight";

    public override string Purpose => "Most calibrations fail for something that could be seen beforehand. Nothing moves yet.";

    public override string WhatGoodLooksLike => "Every question answered yes, and the controller's settings agree with the machine's profile.";

    public override Milestones Gives => Milestones.LookedOver;

    public override bool NeedsPerson => questions;

    public override bool IsGate => true;

    public override StepPlan Plan(MachineProfile profile) => new(Questions: questions ? Questions.Length + 1 : 0, Exchanges: 8);

    /// <summary>Key: <c>questions</c>, whether a person is asked; true unless said otherwise. Without them the step suits unattended runs.</summary>
    public static Step Read(TomlSection section) => new PreflightStep(section.Flag("questions", true));

    internal override async Task<StepConclusion> RunAsync(StepContext context)
    {
        ControllerIdentity identity = await context.DoAsync(new Identify());
        SettingsReport settings = await context.DoAsync(new ReadSettings());
        ProbeOffset offset = await context.DoAsync(new ReadProbeOffset());
        MeshReply mesh = await context.DoAsync(new ReadMesh());
        MachineLook look = await context.DoAsync(new LookAtMachine());
        ProbeState probe = await context.DoAsync(new ReadProbe());
        ImmutableSortedDictionary<string, ProbeState> switches = await context.DoAsync(new ReadSwitches());
        await context.DoAsync(new ReadTemperatures());
        context.Remark(FormattableString.Invariant($"The controller is \"{identity.MachineName}\", {identity.Firmware}; probe offset {offset.X:0.00}, {offset.Y:0.00}, {offset.Z:0.000} mm; mesh correction {OnOff(look.MeshCorrectionOn)}."));

        var findings = new List<Finding>();
        string? refusal = questions ? await AskAsync(context) : null;
        if (probe == ProbeState.Triggered)
        {
            findings.Add(TriggeredFinding(switches));
            refusal ??= "the probe reads triggered before anything touches it.";
        }

        ImmutableArray<Finding> contradictions = Contradictions.Between(context.Profile, offset, settings);
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
            [.. findings],
            identity,
            settings,
            offset,
            mesh.Mesh);
    }

    /// <returns>What was not in order; null when all was.</returns>
    private static async Task<string?> AskAsync(StepContext context)
    {
        await context.AskAsync(Prompts.Acknowledge(
            PromptIds.Cautions,
            "Cautions. The nozzle burns and the bed gets hot. Moving axes pinch: keep hands, hair and sleeves away while anything moves. Mains voltage is inside: no covers off while plugged in. Never leave a heated machine alone. The maker's instructions and your local rules come first.",
            "You are about to move a machine that can hurt you."));
        foreach ((string id, string text, string why) in Questions)
        {
            Answer answer = await context.AskAsync(Prompts.YesNo(id, text, why));
            if (answer.Value != "yes")
            {
                return $"\"{text}\" was answered no. Put it right, then begin again.";
            }
        }

        return null;
    }

    private static async Task<bool> StopsForAsync(StepContext context, ImmutableArray<Finding> contradictions)
    {
        Answer answer = await context.AskAsync(Prompts.Choose(
            PromptIds.Contradiction,
            $"Profile and controller disagree: {string.Join(" ", contradictions.Select(finding => finding.Evidence))} Go on all the same?",
            "A wrong probe offset makes the probe touch beside the places it is sent to, perhaps beside the bed.",
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
        "Look whether the probe touches something or holds a fault; clear it, then begin again.");

    private static string OnOff(bool? on) => on switch { true => "on", false => "off", null => "not reported" };
}
