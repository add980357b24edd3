using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Heat;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Metrology.Ordinal;
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
    private const double SureMm = 0.02;

    public override string Name => "first-layer";

    public override string Title => "First-layer check";

    public override string Purpose => "Plastic has the last word: how patches look tells whether the nozzle is too near or too far where paper can only be felt.";

    public override string WhatGoodLooksLike => "Low patches show ridges, high ones gaps, those between are closed and smooth, and the correction is a few hundredths.";

    public override Milestones Needs => Milestones.HomedXY | Milestones.OffsetVerified | Milestones.MeshKnown;

    public override bool NeedsPerson => true;

    public override StepPlan Plan(MachineProfile profile) => new(Homings: 1, Motions: PatchPlaces.On(profile).Length * (Patch.RowsOf(PatchPlaces.SideMm, parameters.LineWidthMm) + 3), Questions: 22);

    public override string? WhyImpossible(MachineProfile profile) => parameters.NozzleCelsius > profile.Heat.NozzleCapCelsius
        ? FormattableString.Invariant($"nozzle_celsius = {parameters.NozzleCelsius:0} is above this machine's cap of {profile.Heat.NozzleCapCelsius:0}.")
        : PatchPlaces.On(profile).Length < LeastPatches ? "fewer than six patches fit into the printable area off the clips." : null;

    public static Step Read(TomlSection section) => new FirstLayerStep(FirstLayerParameters.Read(section));

    internal override async Task<StepConclusion> RunAsync(StepContext context)
    {
        var work = new PatchWork(context, parameters);
        Temperatures heat = await context.InSectionAsync("prepare", Retake.WhenInterrupted, null, work.PrepareAsync);
        ImmutableArray<SeenPatch> seen = await LayAllAsync(context.Profile, work);
        await work.EndAsync();
        Metrology.Results.Answer<HeightCorrection> fit = Fit(context.Profile, seen);
        if (!fit.IsKnown)
        {
            return new PlainConclusion(Verdicts.Undecided("Too few patches were judged; the offset stays as it is."), []);
        }

        HeightCorrection found = fit.Value;
        string says = FormattableString.Invariant($"By {seen.Length} patches the Z offset wants {found.CorrectionMm:+0.000;-0.000} mm, 95 % interval {found.LowerMm:+0.000;-0.000} to {found.UpperMm:+0.000;-0.000} mm");
        if (found.StandardUncertaintyMm > SureMm)
        {
            return Concluded(Verdicts.Undecided(says + ": too uncertain to be used. Look at the patches again in raking light, or measure the offset by paper again."), false);
        }

        ProbeOffset offset = await context.DoAsync(new ReadProbeOffset());
        Answer answer = await context.AskAsync(Prompts.YesNo(
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
            new(verdict, [], seen, found.CorrectionMm, found.StandardUncertaintyMm, found.LowerMm, found.UpperMm, foldedIn, Conditions.Of(heat));
    }

    /// <summary>The second half goes where the first one saw the window's ends.</summary>
    private async Task<ImmutableArray<SeenPatch>> LayAllAsync(MachineProfile profile, PatchWork work)
    {
        ImmutableArray<BedPoint> places = PatchPlaces.On(profile);
        int half = places.Length / 2;
        ImmutableArray<SeenPatch> coarse = await work.LayAndLookAsync("coarse", [.. places[..half].Select((place, index) => Square(profile, place, index, null))]);
        double? rough = Fit(profile, coarse).OrElse(null)?.CorrectionMm;
        return [.. coarse, .. await work.LayAndLookAsync("fine", [.. places[half..].Select((place, index) => Square(profile, place, index, rough))])];
    }

    private Patch Square(MachineProfile profile, BedPoint place, int index, double? correctionMm) =>
        Patch.Square(place, PatchPlaces.Height(profile.FirstLayer, index, correctionMm), PatchPlaces.SideMm, Laid(profile));

    private static Metrology.Results.Answer<HeightCorrection> Fit(MachineProfile profile, ImmutableArray<SeenPatch> seen) => HeightCorrection.Of(
        [.. seen.Select(patch => new JudgedPatch(patch.HeightMm, Look(patch.Look)))], profile.FirstLayer.LowestGapMm, profile.FirstLayer.HighestGapMm);

    private Extrusion Laid(MachineProfile profile) => new(parameters.LineWidthMm, profile.FirstLayer.HeightMm, parameters.FilamentMm, parameters.Flow);

    private static PatchLook Look(string look) => look switch
    {
        "gaps" => PatchLook.Gaps,
        "ridges" => PatchLook.Ridges,
        _ => PatchLook.Good,
    };
}
