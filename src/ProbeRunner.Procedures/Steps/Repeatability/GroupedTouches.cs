using System.Globalization;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Reach;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Metrology.Nested;
using ProbeRunner.Metrology.Verdicts;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Steps.Repeatability;

/// <summary>One touch and the groups it belongs to.</summary>
internal readonly record struct LabelledTouch(Reading Reading, string[] Labels)
{
    /// <summary>As the analysis takes it.</summary>
    public NestedReading Nested => new(Labels, Reading.Z);
}

/// <summary>Takes the touches of a design in groups, doing between the groups what the design asks.</summary>
internal sealed class GroupedTouches(StepContext context, SeriesDesign design, BedPoint at)
{
    private const int FewestGroups = 5;

    /// <summary>
    /// All touches, in order. Homings begin datums of their own, so each is a section of its own; other groups share one datum and one section.
    /// Designs whose every group is a fresh sample of the same thing stop as soon as the sequential test on the groups' first touches is certain.
    /// </summary>
    public async Task<List<LabelledTouch>> TakeAsync(SequentialSigmaTest test)
    {
        if (design.Mode is SeriesMode.Homings or SeriesMode.Nested)
        {
            var all = new List<LabelledTouch>();
            for (int group = 0; group < design.Groups && !IsCertain(all, test); group++)
            {
                int number = group;
                all.AddRange(await context.InSectionAsync($"homing-{group + 1}", Retake.WhenInterrupted, design.Planned, () => HomedAsync(number)));
            }

            return all;
        }

        return await context.InSectionAsync("readings", Retake.WhenDatumLost, design.Planned, async () =>
        {
            var all = new List<LabelledTouch>();
            for (int group = 0; group < design.Groups && !IsCertain(all, test); group++)
            {
                BedPoint place = await PrepareAsync(group);
                all.AddRange(await TouchAsync(place, [Label(group)]));
                await PutAwayAsync();
            }

            return all;
        });
    }

    private static string Label(int number) => (number + 1).ToString(CultureInfo.InvariantCulture);

    private bool IsCertain(List<LabelledTouch> all, SequentialSigmaTest test)
    {
        // Places differ by the bed's shape, and the nested design is there to find the parts: both are done in full.
        double[] firsts = [.. all.GroupBy(touch => touch.Labels[0]).Select(group => group.First().Reading.Z)];
        return design.Mode is not (SeriesMode.Places or SeriesMode.Nested) && firsts.Length >= FewestGroups && test.Judge(firsts).State != VerdictState.Undecided;
    }

    private async Task<List<LabelledTouch>> HomedAsync(int group)
    {
        await context.DoAsync(new LiftToClearance());
        await context.DoAsync(new HomeAxes(Axes.Z));
        if (design.Mode == SeriesMode.Homings)
        {
            return await TouchAsync(at, [Label(group)]);
        }

        var touches = new List<LabelledTouch>();
        for (int extension = 0; extension < design.Extensions; extension++)
        {
            await context.DoAsync(new LiftToClearance());
            await context.DoAsync(new ExtendProbe());
            touches.AddRange(await TouchAsync(at, [Label(group), Label(extension)]));
            await context.DoAsync(new RetractProbe());
        }

        return touches;
    }

    private async Task<BedPoint> PrepareAsync(int group)
    {
        switch (design.Mode)
        {
            case SeriesMode.Plate:
                await context.DoAsync(new LiftToClearance());
                await context.AskAsync(Prompts.Acknowledge(
                    PromptIds.SeriesPlateBack,
                    "Take the bed's plate off and put it back the same way round, against its stops, clips as before. Look that nothing lies under it. The probe then touches it again.",
                    "How well the plate comes back to its place decides whether a mesh outlives the taking off of a print."));
                await context.HandsClearAsync(PromptIds.SeriesHandsClear, "The probe touches the plate again. Paper out, hands clear?");
                return at;
            case SeriesMode.Extensions:
                await context.DoAsync(new LiftToClearance());
                await context.DoAsync(new ExtendProbe());
                return at;
            case SeriesMode.Travel:
                await context.DoAsync(new LiftToClearance());
                await context.DoAsync(new MoveNozzle(FarCorner()));
                return at;
            default:
                return Places()[group % Places().Length];
        }
    }

    private async Task PutAwayAsync()
    {
        if (design.Mode == SeriesMode.Extensions)
        {
            await context.DoAsync(new RetractProbe());
        }
    }

    private async Task<List<LabelledTouch>> TouchAsync(BedPoint place, string[] labels)
    {
        var touches = new List<LabelledTouch>();
        for (int repeat = 1; repeat <= design.Touches; repeat++)
        {
            touches.Add(new LabelledTouch(await context.DoAsync(new TouchAt(place, repeat)), labels));
        }

        return touches;
    }

    private BedPoint FarCorner()
    {
        BedRectangle reach = ReachableArea.ForNozzle(context.Profile).Bounds.Inset(10);
        return new BedPoint(
            at.X < (reach.MinX + reach.MaxX) / 2 ? reach.MaxX : reach.MinX,
            at.Y < (reach.MinY + reach.MaxY) / 2 ? reach.MaxY : reach.MinY);
    }

    /// <summary>The place asked for and the corners of what the probe reaches, those on a clip left out.</summary>
    private BedPoint[] Places()
    {
        ReachableArea reach = ReachableArea.ForProbe(context.Profile);
        BedRectangle inner = reach.Bounds.Inset(10);
        BedPoint[] corners = [new(inner.MinX, inner.MinY), new(inner.MaxX, inner.MinY), new(inner.MaxX, inner.MaxY), new(inner.MinX, inner.MaxY)];
        return [at, .. corners.Where(reach.CanTouch)];
    }
}
