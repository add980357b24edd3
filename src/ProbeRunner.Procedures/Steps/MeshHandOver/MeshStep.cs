using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Metrology.Meshes;
using ProbeRunner.Metrology.Results;
using ProbeRunner.Metrology.Shapes;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;
using ProbeRunner.Procedures.Steps.Capture;

namespace ProbeRunner.Procedures.Steps.MeshHandOver;

/// <summary>
/// Fits the controller's small mesh to the captured surface and hands it over, compared node by node, or judges the mesh that a controller
/// probes for itself. Refused when the map is not of the bed as it prints, unless a short hot grid corrects it.
/// </summary>
internal sealed class MeshStep(MeshParameters parameters) : Step
{
    private const double LargestHotResidualMm = 0.03;
    private const double FlatMm = 0.0005;

    public override string Name => "mesh";

    public override string Title => "Correction mesh";

    public override string Purpose => "While printing, the controller follows a small grid of heights. Nodes fitted to the whole map leave less error than the bed's heights at the nodes.";

    public override string WhatGoodLooksLike => "Every node reads back as written and little of the bed's shape remains uncorrected.";

    public override Milestones Needs => Milestones.Captured;

    public override Milestones Gives => Milestones.MeshKnown;

    public override bool NeedsPerson => parameters is { HotGrid: true, AnyConditions: false };

    public override bool Heats => NeedsPerson;

    public override StepPlan Plan(MachineProfile profile) => new(
        Exchanges: profile.Mesh.Columns * profile.Mesh.Rows, Questions: NeedsPerson ? 2 : 0, Touches: NeedsPerson ? 20 : 0, Homings: NeedsPerson ? 1 : 0);

    /// <summary>Keys: those of <see cref="MeshParameters.Read"/>.</summary>
    public static Step Read(TomlSection section) => new MeshStep(MeshParameters.Read(section));

    internal override async Task<StepConclusion> RunAsync(StepContext context)
    {
        CaptureConclusion? capture = context.EarlierOrNull<CaptureConclusion>();
        if (capture is null)
        {
            return new PlainConclusion(Verdicts.Undecided("The capture gave no map, so there is no mesh to hand over."), []);
        }

        MachineProfile profile = context.Profile;
        ControllerIdentity identity = await context.DoAsync(new Identify());
        MeshNodes? found = (await context.DoAsync(new ReadMesh())).Mesh;
        string? unlike = capture.TakenUnder is { } taken
            ? taken.WhyUnlikePrinting(profile.Heat.PrintingBedCelsius)
            : "What temperatures the map was taken at is not on record.";
        double? sigma = context.EarlierOrNull<SeriesConclusion>()?.SigmaMm is { } measured and > 0 ? Math.Max(measured, 0.001) : null;
        CapturedSurface captured = CapturedSurface.Of(capture.Readings, CaptureJudgement.Plate(profile), profile.Travel.HomingPlace, sigma).Value;
        if (!identity.Abilities.WriteMeshNodes && identity.Abilities.ProbeOwnMesh)
        {
            return await JudgeOwnAsync(context, new NozzleSurface(captured, null), unlike);
        }

        ShapeTerms? hot = null;
        if (unlike is not null && !parameters.AnyConditions)
        {
            Answer<ShapeTerms>? change = parameters.HotGrid
                ? await new HotGrid(context, parameters).TakeAsync(unlike, captured, await context.DoAsync(new ReadProbeOffset()))
                : null;
            if (WhyNotHot(change, unlike) is { } refused)
            {
                return Refused(context, new NozzleSurface(captured, null), found, refused);
            }

            hot = change!.Value;
        }

        LeanAlongAxis[] leans = [.. context.EarlierOrNull<LeanConclusion>()?.Axes.Where(axis => axis.IsSeen) ?? []];
        BeyondMap? beyond = hot is null && leans.Length == 0
            ? null
            : new BeyondMap(hot, [.. leans.Select(axis => new LeanSlope(axis.Axis, axis.SlopeMmPerMm, axis.OriginMm))], profile.Travel.HomingPlace);
        Finding[] told = [.. leans.Select(MeshFindings.WithoutLean), .. hot is null ? [] : new[] { MeshFindings.HotCorrected(hot) }];
        MeshConclusion handed = await HandOverAsync(context, identity.Abilities, new NozzleSurface(captured, beyond), found, told);
        handed = handed with { Change = beyond };
        return unlike is null || hot is not null || handed.Verdict.State != VerdictWord.Fit
            ? handed
            : handed with
            {
                Verdict = Verdicts.Undecided($"{handed.Verdict.Reason} Whether it is the bed that is printed on is open: {unlike}"),
                Findings = [MeshFindings.AnyConditions(unlike), .. handed.Findings],
            };
    }

    private static Finding? WhyNotHot(Answer<ShapeTerms>? change, string unlike) => change switch
    {
        null => MeshFindings.OtherConditions(unlike),
        { Refusal: { } why } => MeshFindings.HotUnlike(why.Message),
        _ when change.Value.ResidualStandardDeviation > LargestHotResidualMm => MeshFindings.HotUnlike(
            FormattableString.Invariant($"After tilt, bow and twist {change.Value.ResidualStandardDeviation:0.000} mm remain at the places touched.")),
        _ => null,
    };

    private static MeshConclusion Refused(StepContext context, NozzleSurface surface, MeshNodes? found, Finding why)
    {
        (MeshNodes wanted, MeshError left) = Fit(context.Profile, surface, found);
        return new MeshConclusion(Verdicts.Undecided(why.Title), [why], wanted, found, left.Rms, left.Worst, string.Empty);
    }

    private async Task<MeshConclusion> HandOverAsync(StepContext context, ControllerAbilities abilities, NozzleSurface surface, MeshNodes? found, Finding[] told)
    {
        (MeshNodes wanted, MeshError left) = Fit(context.Profile, surface, found);
        List<Finding> findings = [.. told];
        double room = MeshFindings.Room(context.Profile);
        if (left.Worst > room)
        {
            findings.Insert(0, MeshFindings.TooCoarse(surface, wanted, left, room));
        }

        if (!abilities.WriteMeshNodes)
        {
            return new MeshConclusion(
                Verdicts.Undecided("This controller's nodes can't be written; they must be entered by hand."), [MeshWords.ByHandFinding, .. findings], wanted, null, left.Rms, left.Worst, MeshWords.ByHand(wanted));
        }

        MeshNodes readBack = await context.InSectionAsync("write", Retake.WhenInterrupted, null, () => context.DoAsync(new WriteMesh(wanted)));
        context.NoteChange("correction mesh", MeshWords.Described(found), MeshWords.Described(readBack));
        ImmutableArray<string> differences = NodeComparison.Differences(wanted, readBack, parameters.ResolutionMm);
        if (!differences.IsEmpty)
        {
            Finding finding = MeshFindings.NotAsWritten(differences);
            return new MeshConclusion(Verdicts.NotFit(finding.Title), [finding, .. findings], wanted, readBack, left.Rms, left.Worst, string.Empty);
        }

        if (wanted.Heights.Any(height => Math.Abs(height) > FlatMm))
        {
            await context.InSectionAsync("switch on", Retake.WhenInterrupted, null, async () =>
            {
                await context.DoAsync(new SwitchMeshCorrection(true)); // proves that the controller takes it; what follows is measured with it off
                return await context.DoAsync(new SwitchMeshCorrection(false));
            });
        }

        string startCode = MeshWords.StartCode(context.MeshStartCodeLine);
        context.Remark(startCode);
        string paste = abilities.StoreSettings ? string.Empty : MeshWords.Paste(context.LinesThatSet(wanted));
        return new MeshConclusion(
            Verdicts.Fit(FormattableString.Invariant($"All {wanted.Heights.Length} nodes read back as written and were switched on for a trial; {left.Rms:0.000} mm of the shape remain on average."), 0.95),
            [.. findings], wanted, readBack, left.Rms, left.Worst, paste)
        { StartCode = startCode };
    }

    /// <summary>A controller that keeps its nodes to itself probes them; the map says how good they are.</summary>
    private static async Task<MeshConclusion> JudgeOwnAsync(StepContext context, NozzleSurface surface, string? unlike)
    {
        await context.HandsClearAsync(PromptIds.MeshOwnHandsClear, "This controller lets nobody write its mesh, so it probes one of its own all over the bed. Nothing on the bed, paper out, hands clear?");
        MeshNodes? own = await context.InSectionAsync("own mesh", Retake.WhenInterrupted, null, async () =>
        {
            await context.DoAsync(new HomeAxes(Axes.Z));
            return (await context.DoAsync(new ProbeOwnMesh())).Mesh;
        });
        context.Remark("The controller's own mesh has taken the place of its earlier one. Nodes that can't be written can't be put back: unless it is stored, the earlier one returns when the controller is switched off and on.");
        (MeshNodes wanted, MeshError best) = Fit(context.Profile, surface, own);
        if (own is null)
        {
            return new MeshConclusion(
                Verdicts.Undecided("The controller probed a mesh of its own and can't report it, so it can't be judged."), [], wanted, null, best.Rms, best.Worst, string.Empty);
        }

        var mesh = new CorrectionMesh(Grid(own), own.Heights);
        double atHome = mesh.HeightAt(context.Profile.Travel.HomingPlace.X, context.Profile.Travel.HomingPlace.Y, EdgeRule.Clamped);
        var zeroed = new CorrectionMesh(mesh.Grid, [.. own.Heights.Select(height => height - atHome)]);
        MeshError off = MeshError.Of(zeroed, surface.Over(own.Area), EdgeRule.Clamped);
        double room = MeshFindings.Room(context.Profile);
        List<Finding> findings = off.Worst > room ? [MeshFindings.OwnMeshOff(off, room)] : [];
        if (unlike is not null)
        {
            findings.Add(MeshFindings.OwnMeshCold(unlike));
        }

        string startCode = MeshWords.StartCode(context.MeshStartCodeLine);
        StepVerdict verdict = off.Worst > room
            ? Verdicts.NotFit(findings[0].Title, 0.9)
            : unlike is not null
                ? Verdicts.Undecided(FormattableString.Invariant($"The controller's own mesh follows the captured bed within {off.Worst:0.000} mm, but not the bed as it prints."))
                : Verdicts.Fit(FormattableString.Invariant($"The controller's own mesh follows the captured bed within {off.Worst:0.000} mm, {off.Rms:0.000} mm on average."), 0.9);
        return new MeshConclusion(verdict, [.. findings], wanted, own, off.Rms, off.Worst, string.Empty) { StartCode = startCode };
    }

    private static (MeshNodes Wanted, MeshError Left) Fit(MachineProfile profile, NozzleSurface surface, MeshNodes? found)
    {
        MeshNodes shape = found ?? new MeshNodes(profile.Mesh.Area, profile.Mesh.Columns, profile.Mesh.Rows, []);
        (CorrectionMesh fitted, MeshError left) = surface.Fit(Grid(shape));
        BedPoint home = profile.Travel.HomingPlace;
        double atHome = fitted.HeightAt(home.X, home.Y, EdgeRule.Clamped);
        return (shape with { Heights = [.. fitted.Heights.Select(height => Math.Round(height - atHome, 3))] }, left);
    }

    private static MeshGrid Grid(MeshNodes nodes) => new(nodes.Area.MinX, nodes.Area.MinY, nodes.Area.MaxX, nodes.Area.MaxY, nodes.Columns, nodes.Rows);
}
