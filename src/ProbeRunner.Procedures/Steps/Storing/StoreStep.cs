using System.Collections.Immutable;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Steps.Storing;

/// <summary>Stores the settings for good and proves it: the stored ones are taken back and compared.</summary>
internal sealed class StoreStep : Step
{
    private const double ResolutionMm = 0.005;

    public override string Name => "store";

    public override string Title => "Settings stored";

    public override string Purpose => "What is only live is gone at the next power-up.";

    public override string WhatGoodLooksLike => "Offset and mesh read back from the store as they were written.";

    public override Milestones Needs => Milestones.OffsetKnown;

    public override Milestones Gives => Milestones.Stored;

    public override StepPlan Plan(MachineProfile profile) => new(Exchanges: 8);

    /// <summary>No keys.</summary>
    public static Step Read(TomlSection section) => new StoreStep();

    internal override async Task<StepConclusion> RunAsync(StepContext context)
    {
        ControllerIdentity identity = await context.DoAsync(new Identify());
        ProbeOffset offset = await context.DoAsync(new ReadProbeOffset());
        MeshNodes? mesh = (await context.DoAsync(new ReadMesh())).Mesh;
        SettingsReport before = context.EarlierOrNull<PreflightConclusion>()?.SettingsBefore ?? await context.DoAsync(new ReadSettings());
        if (!identity.Abilities.StoreSettings)
        {
            await context.DoAsync(new KeepLiveSettings());
            SettingsReport live = await context.DoAsync(new ReadSettings());
            return new SettingsConclusion(
                Verdicts.Undecided("This controller can't store settings; they must be set again after every power-up."),
                [ByHandFinding(offset)], before, live, Changes(before, live), context.MeshStartCodeLine);
        }

        (ProbeOffset storedOffset, MeshNodes? storedMesh, SettingsReport after) = await context.InSectionAsync("store", Retake.WhenInterrupted, null, async () =>
        {
            await context.DoAsync(new StoreSettings());
            await context.DoAsync(new ReloadSettings());
            return (await context.DoAsync(new ReadProbeOffset()), (await context.DoAsync(new ReadMesh())).Mesh, await context.DoAsync(new ReadSettings()));
        });
        ImmutableArray<Finding> findings = Differs(offset, storedOffset, mesh, storedMesh) is { } finding ? [finding] : [];
        return new SettingsConclusion(
            findings.IsEmpty ? Verdicts.Fit("Stored, taken back from the store, and the same.") : Verdicts.NotFit(findings[0].Title),
            findings, before, after, Changes(before, after), context.MeshStartCodeLine);
    }

    private static Finding? Differs(ProbeOffset offset, ProbeOffset stored, MeshNodes? mesh, MeshNodes? storedMesh)
    {
        double offsetBy = Math.Max(Math.Abs(offset.Z - stored.Z), Math.Max(Math.Abs(offset.X - stored.X), Math.Abs(offset.Y - stored.Y)));
        double meshBy = mesh is null || storedMesh is null || mesh.Heights.Length != storedMesh.Heights.Length
            ? 0
            : mesh.Heights.Zip(storedMesh.Heights, (node, back) => Math.Abs(node - back)).Max();
        return Math.Max(offsetBy, meshBy) <= ResolutionMm
            ? null
            : new Finding(
                "store.not-as-written", "What the controller stored is not what was written.", Math.Max(offsetBy, meshBy), "controller", 1,
                FormattableString.Invariant($"The offset differs by {offsetBy:0.000} mm, the mesh by {meshBy:0.000} mm."),
                "Store again. If it stays so, the controller's memory is worn or full; do not print with it.");
    }

    private static ImmutableArray<ChangedSetting> Changes(SettingsReport before, SettingsReport after) =>
    [
        .. before.Values.Keys.Union(after.Values.Keys).Order(StringComparer.Ordinal)
            .Select(name => new ChangedSetting(name, before.Values.GetValueOrDefault(name, "not reported"), after.Values.GetValueOrDefault(name, "not reported")))
            .Where(change => change.Before != change.After),
    ];

    private static Finding ByHandFinding(ProbeOffset offset) => new(
        "store.by-hand", "The controller can't store settings.", null, "controller", 1, "It answers that it does not know how to.",
        FormattableString.Invariant($"Put the probe offset {offset.X:0.00}, {offset.Y:0.00}, {offset.Z:0.000} mm into the slicer's start code or the controller's own configuration, after homing."));
}
