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
using ProbeRunner.Procedures.Steps.Capture;

namespace ProbeRunner.Procedures.Steps.CheckAgain;

/// <summary>Another day, five minutes: a short series, reference touches and a coarse grid, compared with an earlier capture of the same bed.</summary>
internal sealed class CheckAgainStep(CheckAgainParameters parameters) : Step
{
    private const int References = 3;

    public override string Name => "check-again";

    public override string Title => "Check again";

    public override string Purpose => "A calibration holds until something moves. Five minutes tell whether the bed is still the one that was captured, or a new calibration is due.";

    public override string WhatGoodLooksLike => "The probe scatters as before, and the bed's shape is within tolerance of the captured one.";

    public override bool DependsOnPlate => true;

    public override Milestones Needs => Milestones.HomedZ;

    public override StepPlan Plan(MachineProfile profile) => new(Touches: (parameters.Columns * parameters.Rows) + parameters.SeriesTouches + References, Questions: 1);

    public override string? WhyImpossible(MachineProfile profile) => parameters.Earlier is null
        ? "there is no earlier capture to check against; capture the bed first, or name a run of this machine with --set check-again.against=RUN."
        : null;

    /// <summary>Keys: those of <see cref="CheckAgainParameters.Read"/>.</summary>
    public static Step Read(TomlSection section) => new CheckAgainStep(CheckAgainParameters.Read(section));

    internal override async Task<StepConclusion> RunAsync(StepContext context)
    {
        EarlierCapture earlier = parameters.Earlier!;
        string plate = await context.PlateAsync();
        ProbeOffset offset = await context.DoAsync(new ReadProbeOffset());
        Temperatures heat = await context.DoAsync(new ReadTemperatures());
        ReachableArea reach = ReachableArea.ForProbe(context.Profile, offset);
        GridPlaces grid = GridPlaces.Over(reach, reach.Bounds, parameters.Columns, parameters.Rows);
        await context.HandsClearAsync(
            PromptIds.CheckAgainHandsClear,
            FormattableString.Invariant($"The probe touches one place {parameters.SeriesTouches} times and {grid.Places.Length} places all over the bed, about five minutes. Paper out, hands clear, and nothing on the bed?"));
        int planned = parameters.SeriesTouches + grid.Places.Length + References;
        CheckTouches touches = await context.InSectionAsync("touches", Retake.WhenDatumLost, planned, () => TouchAsync(context, grid));
        return CheckAgainJudgement.Conclude(context.Profile, parameters, earlier, touches, offset, heat, plate);
    }

    private async Task<CheckTouches> TouchAsync(StepContext context, GridPlaces grid)
    {
        BedPoint home = context.Profile.Travel.HomingPlace;
        var touches = new CheckTouches([], []);
        for (int repeat = 1; repeat <= parameters.SeriesTouches; repeat++)
        {
            touches.Series.Add(await context.DoAsync(new TouchAt(home, repeat)));
        }

        int half = grid.Places.Length / 2, reference = 0;
        for (int index = 0; index < grid.Places.Length; index++)
        {
            if (index == 0 || index == half)
            {
                touches.Places.Add(await context.DoAsync(new TouchAt(home, ++reference)));
            }

            touches.Places.Add(await context.DoAsync(new TouchAt(grid.Places[index], 1)));
        }

        touches.Places.Add(await context.DoAsync(new TouchAt(home, ++reference)));
        return touches;
    }
}

/// <summary>The touches of a check: at one place, and over the bed with its reference point.</summary>
internal sealed record CheckTouches(List<Reading> Series, List<Reading> Places);
