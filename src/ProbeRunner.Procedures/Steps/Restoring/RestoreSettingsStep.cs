using System.Collections.Immutable;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Steps.Restoring;

/// <summary>
/// Puts the probe offset and the correction mesh back as an earlier run found them, after a person has confirmed it: written, read back,
/// stored, taken back from the store and compared. So are the switches that a run without a way out may have left changed: they are not
/// settings that are stored. Nothing moves. Called off, everything stays as it is.
/// </summary>
internal sealed class RestoreSettingsStep(RestoreParameters? wanted) : Step
{
    private const double ResolutionMm = 0.005;

    public override string Name => "restore-settings";

    public override string Title => "Settings put back";

    public override string Purpose => "A calibration that made things worse can be taken back: the controller gets the settings it had before.";

    public override string WhatGoodLooksLike => "Offset and mesh read back, from the store too, as that run found them.";

    public override Milestones Needs => Milestones.LookedOver;

    public override bool NeedsPerson => true;

    public override StepPlan Plan(MachineProfile profile) => new(Questions: 1, Exchanges: 10);

    public override string? WhyImpossible(MachineProfile profile) => wanted is null
        ? "there is nothing to put back; use proberunner restore RUN, which takes the settings from that run's record."
        : null;

    /// <summary>Keys: those of <see cref="RestoreParameters"/>.</summary>
    public static Step Read(TomlSection section) => new RestoreSettingsStep(RestoreParameters.Read(section));

    internal override async Task<StepConclusion> RunAsync(StepContext context)
    {
        RestoreParameters back = wanted!;
        ControllerIdentity identity = await context.DoAsync(new Identify());
        ProbeOffset offset = await context.DoAsync(new ReadProbeOffset());
        MeshNodes? mesh = (await context.DoAsync(new ReadMesh())).Mesh;
        SettingsReport before = await context.DoAsync(new ReadSettings());
        Answer answer = await context.AskAsync(Prompts.Choose(
            PromptIds.RestoreConfirm,
            FormattableString.Invariant($"The probe offset is {Words(offset)} now and becomes {Words(back.Offset)} mm, as run {back.Run} found it; {MeshWords(back.Mesh, identity)} Both are stored for good. Nothing moves. Afterwards home Z anew, and check the first layer. Put them back?"),
            "What is stored decides how deep the nozzle goes at the next print.",
            ("keep", "keep the settings as they are now"),
            ("put-back", "put the earlier settings back and store them")));
        if (answer.Value != "put-back")
        {
            return Concluded(Verdicts.Undecided("Called off: the settings are as they were before this run."), [], before, before, context);
        }

        (double offsetBy, double meshBy, SettingsReport after) = await context.InSectionAsync("put-back", Retake.WhenInterrupted, null, () => PutBackAsync(context, back, identity));
        context.NoteChange("probe offset", Words(offset), Words(back.Offset));
        if (back.Mesh is not null && identity.Abilities.WriteMeshNodes)
        {
            context.NoteChange("correction mesh", MeshRange(mesh), MeshRange(back.Mesh));
        }

        return Conclude(context, identity, before, after, Math.Max(offsetBy, meshBy));
    }

    private static async Task<(double OffsetBy, double MeshBy, SettingsReport After)> PutBackAsync(StepContext context, RestoreParameters back, ControllerIdentity identity)
    {
        if (back.Mesh is { } nodes && identity.Abilities.WriteMeshNodes)
        {
            await context.DoAsync(new WriteMesh(nodes));
        }

        await context.DoAsync(new WriteProbeOffset(back.Offset));
        if (identity.Abilities.StoreSettings)
        {
            await context.DoAsync(new StoreSettings());
            await context.DoAsync(new ReloadSettings());
        }
        else
        {
            await context.DoAsync(new KeepLiveSettings());
        }

        await PutSwitchesBackAsync(context, back.Switches);
        await context.DoAsync(new KeepSwitches());
        ProbeOffset offset = await context.DoAsync(new ReadProbeOffset());
        MeshNodes? mesh = (await context.DoAsync(new ReadMesh())).Mesh;
        double offsetBy = Math.Max(Math.Abs(offset.Z - back.Offset.Z), Math.Max(Math.Abs(offset.X - back.Offset.X), Math.Abs(offset.Y - back.Offset.Y)));
        return (offsetBy, MeshDifference(back.Mesh, mesh), await context.DoAsync(new ReadSettings()));
    }

    private static async Task PutSwitchesBackAsync(StepContext context, SwitchesAsFound switches)
    {
        MachineLook now = await context.DoAsync(new LookAtMachine());
        if (switches.SoftLimitsOn is { } limits && now.SoftLimitsOn is { } limited && limits != limited)
        {
            await context.DoAsync(new SwitchSoftLimits(limits));
            context.NoteChange("travel limits", OnOff(limited), OnOff(limits));
        }

        if (switches.MeshCorrectionOn is { } correction && now.MeshCorrectionOn is { } corrected && correction != corrected)
        {
            await context.DoAsync(new SwitchMeshCorrection(correction));
            context.NoteChange("mesh correction", OnOff(corrected), OnOff(correction));
        }

        if (switches.ZFeedMmPerMin is { } feed && (await context.DoAsync(new ReadHighestZFeed())).FeedMmPerMin is { } limit && limit != feed)
        {
            await context.DoAsync(new LimitZFeed(feed));
            context.NoteChange("highest feed of Z", FormattableString.Invariant($"{limit:0.##} mm/min"), FormattableString.Invariant($"{feed:0.##} mm/min"));
        }
    }

    private static string OnOff(bool on) => on ? "on" : "off";

    private static SettingsConclusion Conclude(StepContext context, ControllerIdentity identity, SettingsReport before, SettingsReport after, double differs)
    {
        if (differs > ResolutionMm)
        {
            var finding = new Finding(
                "restore.not-as-before", "The settings don't read back as they were before.", differs, "controller", 1,
                FormattableString.Invariant($"The largest difference is {differs:0.000} mm."),
                "Don't print. Put them back again; if it stays so, enter them at the controller itself.");
            return Concluded(Verdicts.NotFit(finding.Title), [finding], before, after, context);
        }

        return identity.Abilities.StoreSettings
            ? Concluded(Verdicts.Fit("Put back, stored, taken back from the store, and the same."), [], before, after, context)
            : Concluded(Verdicts.Undecided("Put back, but this controller can't store settings: they must be set again after every power-up."), [], before, after, context);
    }

    private static SettingsConclusion Concluded(StepVerdict verdict, ImmutableArray<Finding> findings, SettingsReport before, SettingsReport after, StepContext context) => new(
        verdict,
        findings,
        before,
        after,
        [
            .. before.Values.Keys.Union(after.Values.Keys).Order(StringComparer.Ordinal)
                .Select(name => new ChangedSetting(name, before.Values.GetValueOrDefault(name, "not reported"), after.Values.GetValueOrDefault(name, "not reported")))
                .Where(change => change.Before != change.After),
        ],
        context.MeshStartCodeLine);

    private static double MeshDifference(MeshNodes? wanted, MeshNodes? found) => wanted is null || found is null
        ? 0
        : wanted.Heights.Length != found.Heights.Length ? double.PositiveInfinity : wanted.Heights.Zip(found.Heights, (node, back) => Math.Abs(node - back)).Max();

    private static string Words(ProbeOffset offset) => FormattableString.Invariant($"{offset.X:0.00}, {offset.Y:0.00}, {offset.Z:0.000}");

    private static string MeshWords(MeshNodes? mesh, ControllerIdentity identity) => mesh is null
        ? "that run found no correction mesh, so the present one stays."
        : identity.Abilities.WriteMeshNodes ? $"the correction mesh becomes {MeshRange(mesh)}." : "this controller's mesh can't be written and stays as it is.";

    private static string MeshRange(MeshNodes? mesh) => mesh is null
        ? "none"
        : FormattableString.Invariant($"{mesh.Columns} x {mesh.Rows} nodes, {mesh.Heights.Min():0.000} to {mesh.Heights.Max():0.000} mm");
}
