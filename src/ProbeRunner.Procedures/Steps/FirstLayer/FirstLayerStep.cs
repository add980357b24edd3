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
    private const double HeatStepSeconds = 4;
    private const int MostHeatSteps = 450;
    private const double SureMm = 0.02;
    private const string Skipped = "skip";
    private static readonly TimeSpan SoakPart = TimeSpan.FromMinutes(1);

    public override string Name => "first-layer";

    public override string Title => "First-layer check";

    public override string Purpose => "Plastic has the last word: how patches look tells whether the nozzle is too near or too far where paper can only be felt.";

    public override string WhatGoodLooksLike => "Low patches show ridges, high ones gaps, those between are closed and smooth, and the correction is a few hundredths.";

    public override Milestones Needs => Milestones.HomedXY | Milestones.OffsetVerified | Milestones.MeshKnown;

    public override bool NeedsPerson => true;

    public override StepPlan Plan(MachineProfile profile) => new(Homings: 1, Motions: 3 * 16, Questions: 22);

    public override string? WhyImpossible(MachineProfile profile) => parameters.NozzleCelsius > profile.Heat.NozzleCapCelsius
        ? FormattableString.Invariant($"nozzle_celsius = {parameters.NozzleCelsius:0} is above this machine's cap of {profile.Heat.NozzleCapCelsius:0}.")
        : PatchPlaces.On(profile).Length < LeastPatches ? "fewer than six patches fit into the printable area off the clips." : null;

    public static Step Read(TomlSection section) => new FirstLayerStep(FirstLayerParameters.Read(section));

    internal override async Task<StepConclusion> RunAsync(StepContext context)
    {
        (ImmutableArray<SeenPatch> seen, Temperatures heat) = await context.InSectionAsync("lay", Retake.WhenInterrupted, null, () => LayAllAsync(context));
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

    private async Task<(ImmutableArray<SeenPatch> Seen, Temperatures Heat)> LayAllAsync(StepContext context)
    {
        MachineProfile profile = context.Profile;
        await context.AskAsync(Prompts.Acknowledge(
            PromptIds.FirstLayerReady,
            FormattableString.Invariant($"The nozzle heats to {parameters.NozzleCelsius:0} degC and the bed to {profile.Heat.PrintingBedCelsius:0} degC. Filament loaded, plate clean, nothing left on it from before?"),
            "Nozzle and bed burn. Stay with the machine while it is hot, keep hands out, and know where its mains switch is."));
        await context.HandsClearAsync(PromptIds.FirstLayerHandsClear, "The machine heats, homes Z hot, then lays patches all over the bed. Paper out, hands clear?");
        await HeatAsync(context, profile.Heat.ProbingNozzleCelsius, profile.Heat.PrintingBedCelsius); // below oozing: a drop would be homed on
        await SoakAsync(context);
        await context.DoAsync(new HomeAxes(Axes.Z));
        await context.DoAsync(new LiftToClearance());
        Temperatures heat = await HeatAsync(context, parameters.NozzleCelsius, profile.Heat.PrintingBedCelsius);
        ImmutableArray<BedPoint> places = PatchPlaces.On(profile);
        ImmutableArray<SeenPatch> coarse = await LayAsync(context, [.. places[..(places.Length / 2)].Select((place, index) => Square(profile, place, index, null))]);

        // The second half goes where the first one saw the window's ends.
        double? rough = Fit(profile, coarse).OrElse(null)?.CorrectionMm;
        ImmutableArray<SeenPatch> fine = await LayAsync(context, [.. places[(places.Length / 2)..].Select((place, index) => Square(profile, place, index, rough))]);
        await context.DoAsync(new SetHeaterTargets(0, 0));
        return ([.. coarse, .. fine], heat);
    }

    private static async Task SoakAsync(StepContext context)
    {
        context.Remark(FormattableString.Invariant($"The bed soaks for {context.Profile.Heat.Soak.TotalMinutes:0} minutes: a plate goes on bending after its sensor is warm."));
        BedPoint middle = context.Profile.Travel.HomingPlace;
        for (TimeSpan soaked = TimeSpan.Zero; soaked < context.Profile.Heat.Soak; soaked += SoakPart)
        {
            await context.DoAsync(new StandStill(SoakPart));
            await context.DoAsync(new LiftToClearance());
            await context.DoAsync(new MoveNozzle(middle with { X = middle.X + (soaked.TotalMinutes % 2) })); // holds the motors' idle release off
            await context.DoAsync(new ReadTemperatures());
        }
    }

    private async Task<ImmutableArray<SeenPatch>> LayAsync(StepContext context, ImmutableArray<Patch> patches)
    {
        await context.DoAsync(new SwitchMeshCorrection(true));
        foreach (Patch patch in patches)
        {
            await context.DoAsync(new LiftToClearance());
            await context.DoAsync(new MoveNozzle(patch.Start));
            await context.DoAsync(new BeginLaying(context.Profile.FirstLayer.HeightMm));
            await context.DoAsync(new LayLines(patch.Lines, patch.HeightMm, parameters.FeedMmPerMin));
            await context.DoAsync(new LiftToClearance());
        }

        await context.DoAsync(new SwitchMeshCorrection(false));
        var seen = ImmutableArray.CreateBuilder<SeenPatch>();
        foreach (Patch patch in patches)
        {
            string look = await LookAsync(context, patch.Centre, seen.Count + 1, patches.Length);
            seen.Add(new SeenPatch(patch.Centre, patch.HeightMm, look));
        }

        await context.HandsClearAsync(PromptIds.FirstLayerHandsClear, "The machine moves on. Hands clear, nothing on the bed but the patches?");
        return [.. seen.Where(patch => patch.Look != Skipped)];
    }

    private Patch Square(MachineProfile profile, BedPoint place, int index, double? correctionMm) =>
        Patch.Square(place, PatchPlaces.Height(profile.FirstLayer, index, correctionMm), PatchPlaces.SideMm, Laid(profile));

    private static Metrology.Results.Answer<HeightCorrection> Fit(MachineProfile profile, ImmutableArray<SeenPatch> seen) => HeightCorrection.Of(
        [.. seen.Select(patch => new JudgedPatch(patch.HeightMm, Look(patch.Look)))], profile.FirstLayer.LowestGapMm, profile.FirstLayer.HighestGapMm);

    private static async Task<string> LookAsync(StepContext context, BedPoint place, int number, int of)
    {
        Answer answer = await context.AskAsync(Prompts.Choose(
            PromptIds.FirstLayerPatch,
            FormattableString.Invariant($"Patch {number} of {of}, around x {place.X:0}, y {place.Y:0}: how does it look? Look along it towards a light; don't touch, it is hot."),
            "Gaps: lines lie side by side without joining. Ridges: plastic is squeezed up between the lines or scraped through. Good: closed and smooth. The next patch follows.",
            (Skipped, "can't tell, or nothing there"), ("gaps", "gaps between the lines"), ("good", "closed and smooth"), ("ridges", "ridges, or scraped through")) with
        { About = FormattableString.Invariant($"{place.X:0.0} {place.Y:0.0}") });
        return answer.Value;
    }

    private static async Task<Temperatures> HeatAsync(StepContext context, double nozzle, double bed)
    {
        await context.DoAsync(new SetHeaterTargets(nozzle, bed));
        for (int step = 0; step < MostHeatSteps; step++)
        {
            Temperatures heat = await context.DoAsync(new ReadTemperatures());
            if (Math.Abs(heat.NozzleCelsius - nozzle) <= 3 && Math.Abs(heat.BedCelsius - bed) <= 3)
            {
                return heat;
            }

            await context.DoAsync(new StandStill(TimeSpan.FromSeconds(HeatStepSeconds)));
        }

        throw new StepFailedException("The heaters did not reach their temperatures within half an hour. Heaters go off now. Check thermistors, heaters and draughts before trying again.");
    }

    private Extrusion Laid(MachineProfile profile) => new(parameters.LineWidthMm, profile.FirstLayer.HeightMm, parameters.FilamentMm, parameters.Flow);

    private static PatchLook Look(string look) => look switch
    {
        "gaps" => PatchLook.Gaps,
        "ridges" => PatchLook.Ridges,
        _ => PatchLook.Good,
    };
}
