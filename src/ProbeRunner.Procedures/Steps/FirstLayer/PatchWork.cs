using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Heat;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Events;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Steps.FirstLayer;

/// <summary>What is done at the machine: heated, homed hot, patches laid row by row with the person's nudges, each looked at.</summary>
internal sealed class PatchWork(StepContext context, FirstLayerParameters parameters)
{
    private const double HeatStepSeconds = 4;
    private const int MostHeatSteps = 450;
    private const string Skipped = "skip";
    private static readonly TimeSpan SoakPart = TimeSpan.FromMinutes(1);

    /// <summary>Heats below oozing (a drop would be homed on), soaks, homes, then heats the nozzle to printing.</summary>
    public async Task<Temperatures> PrepareAsync()
    {
        await context.AskAsync(Prompts.Acknowledge(
            PromptIds.FirstLayerReady,
            FormattableString.Invariant($"The nozzle heats to {parameters.NozzleCelsius:0} degC and the bed to {BedCelsius:0} degC. Filament loaded, plate clean, nothing left on it from before?"),
            "Nozzle and bed burn. Stay with the machine while it is hot, keep hands out, and know where its mains switch is."));
        await context.HandsClearAsync(PromptIds.FirstLayerHandsClear, "The machine heats, homes Z hot, then lays patches all over the bed. Paper out, hands clear?");
        await HeatAsync(context.Profile.Heat.ProbingNozzleCelsius);
        await SoakAsync();
        await context.DoAsync(new HomeAxes(Axes.Z));
        await context.DoAsync(new LiftToClearance());
        return await HeatAsync(parameters.NozzleCelsius);
    }

    /// <summary>Lays patches one after another, then has each looked at.</summary>
    /// <param name="batch">What this batch is called in the record.</param>
    public async Task<ImmutableArray<SeenPatch>> LayAndLookAsync(string batch, ImmutableArray<Patch> patches)
    {
        context.Remark(FormattableString.Invariant($"{patches.Length} patches are laid. While lines come out you may say closer or farther: the nozzle moves by {parameters.NudgeMm:0.###} mm before the next line."));
        var laid = new List<(Patch Patch, double HeightMm)>();
        double nudged = 0;
        foreach ((int index, Patch patch) in patches.Index())
        {
            double carried = nudged;
            string name = FormattableString.Invariant($"{batch} patch {index + 1}");
            if (await context.InSectionAsync(name, Retake.WhenInterrupted, null, () => LayAsync(patch, name, carried)) is { } done)
            {
                laid.Add((patch, done.MeanHeightMm));
                context.Show(at => new PatchLaid(at, context.StepName, patch.Centre, done.MeanHeightMm));
                nudged = done.NudgedMm;
            }
        }

        await context.InSectionAsync($"{batch} done", Retake.WhenInterrupted, null, () => context.DoAsync(new SwitchMeshCorrection(false)));
        ImmutableArray<SeenPatch> seen = await LookAtAllAsync([.. laid.Select(one => (one.Patch, one.HeightMm))]);
        await context.HandsClearAsync(PromptIds.FirstLayerHandsClear, "The machine moves on. Hands clear, nothing on the bed but the patches?");
        return seen;
    }

    /// <summary>Has the person print the patches from a file and look at each. Where the machine stands afterwards is not known.</summary>
    public async Task<ImmutableArray<SeenPatch>> LookAtPrintedAsync(ImmutableArray<Patch> patches)
    {
        await context.AskAsync(Prompts.Acknowledge(
            PromptIds.FirstLayerPrinted,
            $"Write the pattern in another terminal: proberunner pattern --machine {context.Profile.Name} --from {context.RunId}{parameters.SetWords()} -o FILE. Have the machine print it from its own card, and stay with it; to print it over this cable, stop this run first and resume it afterwards. Leave the patches on the plate. Printed?",
            FormattableString.Invariant($"{patches.Length} patches at different heights show where lines begin to part and where they begin to be squeezed. Nozzle and bed burn while they are printed. Next you are asked how each looks, in the order in which they were printed.")));
        await context.InSectionAsync("printed", Retake.WhenInterrupted, null, () => context.DoAsync(new ForgetHoming(Axes.All)));
        return await LookAtAllAsync([.. patches.Select(patch => (patch, patch.HeightMm))]);
    }

    /// <summary>Has each patch looked at; those that tell nothing are left out.</summary>
    private async Task<ImmutableArray<SeenPatch>> LookAtAllAsync(ImmutableArray<(Patch Patch, double HeightMm)> laid)
    {
        var seen = ImmutableArray.CreateBuilder<SeenPatch>();
        foreach ((int index, (Patch patch, double height)) in laid.Index())
        {
            string look = await LookAsync(patch.Centre, index + 1, laid.Length);
            if (look != Skipped)
            {
                seen.Add(new SeenPatch(patch.Centre, height, look));
            }
        }

        return seen.ToImmutable();
    }

    /// <summary>Heaters off.</summary>
    public Task EndAsync() => context.InSectionAsync("cool", Retake.WhenInterrupted, null, () => context.DoAsync(new SetHeaterTargets(0, 0)));

    private double BedCelsius => context.Profile.Heat.PrintingBedCelsius;

    /// <returns>Null for a patch that was begun before: laying over half a patch says nothing, so it is left as it is.</returns>
    private async Task<LaidPatch?> LayAsync(Patch patch, string name, double nudged)
    {
        if (context.TakesBefore(name) > 0)
        {
            context.Warn(FormattableString.Invariant($"The patch around x {patch.Centre.X:0}, y {patch.Centre.Y:0} was interrupted; it stays as it is and does not count."));
            return null;
        }

        await context.DoAsync(new LiftToClearance());
        await HeatAsync(parameters.NozzleCelsius);
        await context.DoAsync(new SwitchMeshCorrection(true));
        await context.DoAsync(new LiftToClearance()); // with the mesh on, the same height may be lower
        await context.DoAsync(new MoveNozzle(patch.Start));
        await context.DoAsync(new BeginLaying(context.Profile.FirstLayer.HeightMm, parameters.NudgeMm, nudged));
        double height = PatchPlaces.Bounded(context.Profile.FirstLayer, patch.HeightMm + nudged);
        (double sum, double here) = (0, 0);
        foreach (ImmutableArray<LaidLine> row in patch.Rows)
        {
            here += (await context.DoAsync(new LayLines(row, height, parameters.FeedMmPerMin))).NudgedMm;
            sum += height + here;
        }

        await context.DoAsync(new LiftToClearance());
        return new LaidPatch(Math.Round(sum / patch.Rows.Length, 4), Math.Round(nudged + here, 4));
    }

    private async Task SoakAsync()
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

    private async Task<string> LookAsync(BedPoint place, int number, int of)
    {
        Answer answer = await context.AskAsync(Prompts.Choose(
            PromptIds.FirstLayerPatch,
            FormattableString.Invariant($"Patch {number} of {of}, around x {place.X:0}, y {place.Y:0}: how does it look? Look along it towards a light; don't touch, it is hot."),
            "Gaps: lines lie side by side without joining. Ridges: plastic is squeezed up between the lines or scraped through. Good: closed and smooth. The next patch follows.",
            (Skipped, "can't tell, or nothing there"), ("gaps", "gaps between the lines"), ("good", "closed and smooth"), ("ridges", "ridges, or scraped through")) with
        { About = FormattableString.Invariant($"{place.X:0.0} {place.Y:0.0}") });
        return answer.Value;
    }

    private async Task<Temperatures> HeatAsync(double nozzle)
    {
        await context.DoAsync(new SetHeaterTargets(nozzle, BedCelsius));
        for (int step = 0; step < MostHeatSteps; step++)
        {
            Temperatures heat = await context.DoAsync(new ReadTemperatures());
            if (Math.Abs(heat.NozzleCelsius - nozzle) <= 3 && Math.Abs(heat.BedCelsius - BedCelsius) <= 3)
            {
                return heat;
            }

            await context.DoAsync(new StandStill(TimeSpan.FromSeconds(HeatStepSeconds)));
        }

        throw new StepFailedException("The heaters did not reach their temperatures within half an hour. Heaters go off now. Check thermistors, heaters and draughts before trying again.");
    }

    /// <summary>A patch as it was laid.</summary>
    private sealed record LaidPatch(double MeanHeightMm, double NudgedMm);
}
