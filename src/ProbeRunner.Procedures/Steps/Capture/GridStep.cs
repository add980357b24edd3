using ProbeRunner.Machine.Heat;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Reach;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Steps.Capture;

/// <summary>
/// Readings on a grid over a rectangle of what the probe can reach. Each reading stands on its own, with its datum epoch: an interruption costs
/// the touch in hand and no other; the joint model finds the offsets between epochs and the drift.
/// </summary>
internal sealed class GridStep(GridParameters parameters) : Step
{
    public override string Name => "grid";

    public override string Title => "Grid capture";

    public override string Purpose => "The bed's shape decides where a first layer sticks. A dense grid shows what a small correction mesh would step over.";

    public override string WhatGoodLooksLike => "Two touches of each place agree, the reference point stays where it was, and the map is smooth.";

    public override bool DependsOnPlate => true;

    public override Milestones Needs => Milestones.HomedZ;

    public override Milestones Wants => Milestones.GantryLevel;

    public override Milestones Gives => Milestones.Captured;

    public override bool Heats => parameters.Rule.Heat.IsOn;

    public override StepPlan Plan(MachineProfile profile) => PlanFor(GridPlaces.Over(ReachableArea.ForProbe(profile), parameters));

    public override string? WhyImpossible(MachineProfile profile) =>
        GridPlaces.Over(ReachableArea.ForProbe(profile), parameters).Places.Length < 6
            ? "the probe reaches fewer than six places of the grid on this machine; check area_mm, the probe's offset and the clips in the profile."
            : parameters.Rule.Heat.WhyImpossible(profile);

    /// <summary>Keys: those of <see cref="GridParameters.Read"/>.</summary>
    public static Step Read(TomlSection section) => new GridStep(GridParameters.Read(section));

    internal override async Task<StepConclusion> RunAsync(StepContext context)
    {
        string plate = await context.PlateAsync();
        ProbeOffset offset = await context.DoAsync(new ReadProbeOffset());
        Temperatures found = await context.DoAsync(new ReadTemperatures());
        GridPlaces grid = GridPlaces.Over(ReachableArea.ForProbe(context.Profile, offset), parameters);
        await context.HandsClearAsync(PromptIds.CaptureHandsClear, FormattableString.Invariant($"{parameters.Rule.Heat.Caution(context.Profile.Heat)}The probe touches {grid.Places.Length} places all over the bed. Paper out, hands clear, and nothing on the bed?"));
        (Temperatures heat, TimeSpan soaked) = await parameters.Rule.Heat.ReachAsync(context, found);
        StepPlan plan = PlanFor(grid);
        context.Remark(FormattableString.Invariant($"{grid.Columns} x {grid.Rows} places, {plan.Touches} touches: {CaptureWords.Duration(context.Expect(plan))} at this machine's own pace."));
        double? feed = await CaptureFeed.AsFoundAsync(context, parameters.Rule);
        CaptureTally tally = await context.InSectionAsync(
            "places", Retake.Continue, plan.Touches, () => CaptureFeed.KeptAsync(context, parameters.Rule, feed, () => CaptureAsync(context, grid, found)));
        return CaptureJudgement.Conclude(context, new CapturedArea(grid.Area, grid.Columns, grid.Rows, grid.LeftOut.Length), tally, new CaptureConditions(heat, soaked, plate));
    }

    private async Task<CaptureTally> CaptureAsync(StepContext context, GridPlaces grid, Temperatures found)
    {
        var pass = new CapturePass(context, parameters.Rule, grid.NearestTo(context.Profile.Travel.HomingPlace));
        foreach (Machine.Geometry.BedPoint place in grid.Places)
        {
            await pass.TouchPlaceAsync(place);
        }

        await pass.EndAsync();
        await parameters.Rule.Heat.LeaveAsync(context, found);
        return pass.Tally;
    }

    private StepPlan PlanFor(GridPlaces grid) => new(
        Touches: (grid.Places.Length * parameters.Rule.Touches) + parameters.Rule.RevisitTouches(grid.Places.Length),
        Homings: parameters.Rule.Homings(grid.Places.Length),
        Questions: 1);
}
