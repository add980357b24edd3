using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Heat;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Metrology.Ordinal;
using ProbeRunner.Metrology.Results;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Steps.FirstLayer;

/// <summary>
/// Lays patches at heights about both ends of the adhesion window, has each judged, and finds the correction of the Z offset that puts
/// the set height into the window's middle.
/// </summary>
internal sealed class FirstLayerStep(FirstLayerParameters parameters) : Step
{
    private const int LeastPatches = 6;
    private const int CoarsePatches = 6;
    private const int FinePatches = 6;

    /// <summary>How far a proven offset may be off before plastic was seen, standard deviation, mm; from memory: a paper test is a few hundredths off.</summary>
    private const double PriorMm = 0.08;
    private const double SureMm = 0.02;

    /// <summary>An interval that reaches no further from its middle asks for no more touches or patches, mm.</summary>
    private const double WellKnownMm = 0.01;

    public override string Name => "first-layer";

    public override string Title => "First-layer check";

    public override string Purpose => "Plastic has the last word: how patches look tells whether the nozzle is too near or too far where paper can only be felt.";

    public override string WhatGoodLooksLike => "Low patches show ridges, high ones gaps, those between are closed and smooth, and the correction is a few hundredths.";

    public override bool DependsOnPlate => true;

    public override Milestones Needs => Milestones.HomedXY | Milestones.OffsetVerified;

    public override bool NeedsPerson => true;

    public override bool Heats => Parameters.Streams;

    /// <summary>What is laid and with what.</summary>
    public FirstLayerParameters Parameters { get; } = parameters;

    public override StepPlan Plan(MachineProfile profile)
    {
        int patches = 16 + (2 * Parameters.CheckPlaces);
        return new StepPlan(Homings: 1, Motions: patches * (Patch.RowsOf(PatchPlaces.SideMm, Parameters.LineWidthMm) + 4), Questions: patches + 7);
    }

    public override string? WhyImpossible(MachineProfile profile) => Parameters.NozzleCelsius > profile.Heat.NozzleCapCelsius
        ? FormattableString.Invariant($"nozzle_celsius = {Parameters.NozzleCelsius:0} is above this machine's cap of {profile.Heat.NozzleCapCelsius:0}.")
        : PatchPlaces.On(profile).Length < LeastPatches ? "fewer than six patches fit into the printable area off the clips." : null;

    public static Step Read(TomlSection section) => new FirstLayerStep(FirstLayerParameters.Read(section));

    internal override async Task<StepConclusion> RunAsync(StepContext context)
    {
        if ((await context.DoAsync(new ReadMesh())).Mesh is not { } mesh || mesh.Heights.All(height => height == 0))
        {
            return new PlainConclusion(Verdicts.Undecided("The controller holds no correction mesh, and a first layer is laid over one. Capture the bed and hand its mesh over first. Nothing was heated."), []);
        }

        string plate = await context.PlateAsync();
        var work = new PatchWork(context, Parameters);
        FirstLayerProfile layer = context.Profile.FirstLayer;
        // A file is written without knowing the series, so its patches are planned without it too.
        GapPrediction? prediction = GapPrediction.Of(
            context.Profile, context.EarlierOrNull<CaptureConclusion>(), context.EarlierOrNull<MeshConclusion>(), Parameters.Streams ? context.EarlierOrNull<SeriesConclusion>()?.SigmaMm : null);
        PatchPlan plan = PatchPlan.For(context.Profile, prediction, Parameters.CheckPlaces);
        (Temperatures heat, ImmutableArray<SeenPatch> seen) = Parameters.Streams
            ? await LayAllAsync(context, work, layer, plan, prediction)
            : (await context.DoAsync(new ReadTemperatures()), await work.LookAtPrintedAsync(FirstLayerPattern.Planned(context.Profile, Parameters, prediction)));
        Answer<HeightCorrection> fit = Fit(layer, seen, prediction);
        if (!fit.IsKnown)
        {
            return new PlainConclusion(Verdicts.Undecided("Too few patches were judged; the offset stays as it is."), []);
        }

        ImmutableArray<MapCheck> checks = prediction is null ? [] : MapChecks.Of(plan, seen, fit.Value, prediction, layer);
        HeightCorrection found = Centred(context.Profile, fit.Value, seen, prediction);
        string says = FormattableString.Invariant($"By {seen.Length} patches the Z offset wants {found.CorrectionMm:+0.000;-0.000} mm, 95 % interval {found.LowerMm:+0.000;-0.000} to {found.UpperMm:+0.000;-0.000} mm");
        says += (found.UpperMm - found.LowerMm) / 2 > WellKnownMm ? FormattableString.Invariant($"; more than {WellKnownMm:0.000} mm stays open, which a denser map of the bed as it prints would narrow") : string.Empty;
        if (found.StandardUncertaintyMm > SureMm)
        {
            return Concluded(Verdicts.Undecided(says + ": too uncertain to be used. Look at the patches again in raking light, or measure the offset by paper again."), false);
        }

        ProbeOffset offset = await context.DoAsync(new ReadProbeOffset());
        Operators.Answer answer = await context.AskAsync(Prompts.YesNo(
            PromptIds.FirstLayerFoldIn,
            says + ". Shall it be added to the Z offset? It is then stored and proven like any other offset.",
            "The offset decides every first layer from now on; a negative correction brings the nozzle nearer to the bed."));
        if (answer.Value != "yes")
        {
            return Concluded(Verdicts.Fit(says + ". It was not added.", found.Confidence), false);
        }

        ProbeOffset wanted = offset with { Z = Math.Round(offset.Z + found.CorrectionMm, 3) };
        ProbeOffset back = await context.InSectionAsync("write", Retake.WhenInterrupted, null, () => context.DoAsync(new WriteProbeOffset(wanted)));
        context.NoteChange("probe offset Z", FormattableString.Invariant($"{offset.Z:0.000} mm"), FormattableString.Invariant($"{back.Z:0.000} mm"));
        return Concluded(Verdicts.Fit(says + ". It was added to the Z offset.", found.Confidence), true);

        FirstLayerConclusion Concluded(StepVerdict verdict, bool foldedIn) =>
            new(verdict, MapChecks.Findings(context.Profile, checks, fit.Value), seen, found.CorrectionMm, found.StandardUncertaintyMm, found.LowerMm, found.UpperMm, foldedIn, Conditions.Of(heat, plate: plate), checks)
            { TakenUnder = new TakenUnder(heat.BedCelsius, heat.NozzleCelsius, heat.BedTargetCelsius, plate) };
    }

    /// <summary>Ramped over the window first, then twice about where its ends are seen, then in pairs where the map is most doubtful.</summary>
    private async Task<(Temperatures Heat, ImmutableArray<SeenPatch> Seen)> LayAllAsync(StepContext context, PatchWork work, FirstLayerProfile layer, PatchPlan plan, GapPrediction? prediction)
    {
        Temperatures heat = await context.InSectionAsync("prepare", Retake.WhenInterrupted, null, work.PrepareAsync);
        (double lowest, double highest) = (layer.LowestGapMm, layer.HighestGapMm);
        ImmutableArray<BedPoint> places = plan.ForHeight;
        int coarse = Math.Min(CoarsePatches, places.Length), fine = Math.Min(FinePatches, places.Length - coarse);
        ImmutableArray<SeenPatch> seen = await LayAsync("coarse", places[..coarse], PatchDesign.Coarse(lowest, highest, coarse));
        seen = [.. seen, .. await RefineAsync("fine", places.Slice(coarse, fine))];
        seen = [.. seen, .. await RefineAsync("finer", places[(coarse + fine)..])];
        if (!plan.ForMap.IsEmpty && Fit(layer, seen, prediction).OrElse(null) is { } known)
        {
            (double low, double high) = PatchDesign.Check(known, lowest, highest, MapChecks.MarginMm);
            seen = [.. seen, .. await LayAsync("map", [.. plan.ForMap.SelectMany(pair => new[] { pair.Low, pair.High })], [.. plan.ForMap.SelectMany(_ => new[] { low, high })])];
        }

        await work.EndAsync();
        return (heat, seen);

        async Task<ImmutableArray<SeenPatch>> RefineAsync(string batch, ImmutableArray<BedPoint> where) =>
            where.IsEmpty || Fit(layer, seen, prediction).OrElse(null) is not { } soFar ? [] : await LayAsync(batch, where, PatchDesign.Fine(soFar, lowest, highest, where.Length));

        Task<ImmutableArray<SeenPatch>> LayAsync(string batch, ImmutableArray<BedPoint> where, ImmutableArray<double> gaps) => work.LayAndLookAsync(
            batch, [.. where.Select((place, index) => Patch.Square(place, PatchPlaces.HeightFor(layer, prediction, place, gaps[index]), PatchPlaces.SideMm, Parameters.Laid(layer)))]);
    }

    /// <summary>
    /// Patches tell how far the nozzle is off where the map says it should be; what the mesh leaves of the map on average over the printable area
    /// comes on top, so that the gap is right in the middle of what is printed and not at the homing place.
    /// </summary>
    private static HeightCorrection Centred(MachineProfile profile, HeightCorrection found, ImmutableArray<SeenPatch> seen, GapPrediction? prediction) =>
        prediction?.Over(profile.Bed.Printable, [.. seen.Select(patch => patch.Place)]) is var (wider, uncertainty) ? found.And(-wider, uncertainty) : found;

    private static Answer<HeightCorrection> Fit(FirstLayerProfile layer, ImmutableArray<SeenPatch> seen, GapPrediction? prediction) => HeightCorrection.Of(
        [
            .. seen.Select(patch => (Patch: patch, Map: prediction?.At(patch.Place) ?? default))
                .Select(pair => new JudgedPatch(pair.Patch.HeightMm + pair.Map.WiderMm, Look(pair.Patch.Look), pair.Map.UncertaintyMm)),
        ],
        layer.LowestGapMm,
        layer.HighestGapMm,
        priorSigmaMm: PriorMm);

    /// <summary>A look as the fit takes it.</summary>
    internal static PatchLook Look(string look) => look switch
    {
        "gaps" => PatchLook.Gaps,
        "ridges" => PatchLook.Ridges,
        _ => PatchLook.Good,
    };
}

