using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Heat;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Reach;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Steps.Capture;

/// <summary>
/// Readings on a grid over all that the probe can reach. Each reading stands on its own, with its datum epoch: an interruption costs the
/// touch in hand and no other; the joint model finds the offsets between epochs.
/// </summary>
internal sealed class GridStep(GridParameters parameters) : Step
{
    public override string Name => "grid";

    public override string Title => "Grid capture";

    public override string Purpose => "The bed's shape decides where a first layer sticks. A dense grid shows what a small correction mesh would step over.";

    public override string WhatGoodLooksLike => "Two touches of each place agree, the reference point stays where it was, and the map is smooth.";

    public override Milestones Needs => Milestones.HomedZ;

    public override Milestones Gives => Milestones.Captured;

    public override StepPlan Plan(MachineProfile profile)
    {
        int places = GridPlaces.Over(ReachableArea.ForProbe(profile), parameters.Columns, parameters.Rows).Places.Length;
        return new StepPlan(Touches: (places * parameters.Touches) + Revisits(places), Questions: 1);
    }

    public override string? WhyImpossible(MachineProfile profile)
    {
        ReachableArea reach = ReachableArea.ForProbe(profile);
        return reach.Bounds.IsEmpty || GridPlaces.Over(reach, parameters.Columns, parameters.Rows).Places.Length < 6
            ? "the probe reaches fewer than six places of the grid on this machine; check the probe's offset and the clips in the profile."
            : null;
    }

    /// <summary>Keys: those of <see cref="GridParameters.Read"/>.</summary>
    public static Step Read(TomlSection section) => new GridStep(GridParameters.Read(section));

    internal override async Task<StepConclusion> RunAsync(StepContext context)
    {
        ProbeOffset offset = await context.DoAsync(new ReadProbeOffset());
        Temperatures heat = await context.DoAsync(new ReadTemperatures());
        GridPlaces grid = GridPlaces.Over(ReachableArea.ForProbe(context.Profile, offset), parameters.Columns, parameters.Rows);
        await context.HandsClearAsync(PromptIds.CaptureHandsClear, FormattableString.Invariant($"The probe touches {grid.Places.Length} places all over the bed. Paper out, hands clear, and nothing on the bed?"));
        double? asFound = parameters.TouchFeedMmPerMin > 0 ? (await context.DoAsync(new ReadHighestZFeed())).FeedMmPerMin : null;
        int planned = (grid.Places.Length * parameters.Touches) + Revisits(grid.Places.Length);
        GridTally tally = await context.InSectionAsync("places", Retake.Continue, planned, () => CaptureAsync(context, grid, asFound));
        return GridJudgement.Conclude(context, parameters, grid, tally, Conditions.Of(heat));
    }

    private async Task<GridTally> CaptureAsync(StepContext context, GridPlaces grid, double? feedAsFound)
    {
        if (feedAsFound is { } found && found > parameters.TouchFeedMmPerMin)
        {
            await context.DoAsync(new LimitZFeed(parameters.TouchFeedMmPerMin));
        }

        GridTally tally = await TouchAllAsync(context, grid);
        if (feedAsFound is { } back && back > parameters.TouchFeedMmPerMin)
        {
            await context.DoAsync(new LimitZFeed(back));
        }

        return tally;
    }

    private async Task<GridTally> TouchAllAsync(StepContext context, GridPlaces grid)
    {
        var tally = new GridTally();
        BedPoint reference = context.Profile.Travel.HomingPlace;
        for (int index = 0; index < grid.Places.Length; index++)
        {
            if (parameters.ReferenceEvery > 0 && index % parameters.ReferenceEvery == 0)
            {
                tally.AddReference(await TouchAsync(context, reference, (index / parameters.ReferenceEvery) + 1));
            }

            tally.AddPlace(await TouchPlaceAsync(context, grid.Places[index]), parameters.DisagreementMm);
        }

        if (parameters.ReferenceEvery > 0)
        {
            tally.AddReference(await TouchAsync(context, reference, Revisits(grid.Places.Length)));
        }

        return tally;
    }

    /// <summary>The touches of one place; two that disagree are settled by up to two more.</summary>
    private async Task<List<Reading>> TouchPlaceAsync(StepContext context, BedPoint place)
    {
        var readings = new List<Reading>();
        while (readings.Count < parameters.Touches || (parameters.Touches > 1 && readings.Count < parameters.Touches + 2 && Disagree(readings)))
        {
            readings.Add(await TouchAsync(context, place, readings.Count + 1));
        }

        return readings;
    }

    private async Task<Reading> TouchAsync(StepContext context, BedPoint place, int repeat)
    {
        if (parameters.ExtraLiftMm > 0)
        {
            await context.DoAsync(new LiftHigher(parameters.ExtraLiftMm));
        }

        return await context.DoAsync(new TouchAt(place, repeat));
    }

    private bool Disagree(List<Reading> readings) =>
        GridTally.Around(readings, parameters.DisagreementMm).Count < Math.Min(2, readings.Count(reading => reading.DatumEpoch == readings[^1].DatumEpoch));

    private int Revisits(int places) => parameters.ReferenceEvery > 0 ? ((places - 1) / parameters.ReferenceEvery) + 2 : 0;
}
