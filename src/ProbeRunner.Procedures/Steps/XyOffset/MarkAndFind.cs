using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;
using ProbeRunner.Procedures.Steps.StepDown;

namespace ProbeRunner.Procedures.Steps.XyOffset;

/// <summary>
/// The nozzle comes down on removable tape, where the person marks its place; then the probe is brought over that mark in bounded
/// level steps, each by the person's word. The difference of the two nozzle places is the offset.
/// </summary>
internal sealed class MarkAndFind(StepContext context, BedPoint mark)
{
    private const string CallOff = "call-off";
    private const string Touching = "touching";
    private const string Over = "over";
    private const double DownMm = 0.0975; // the guard allows 0.1 near the bed
    private const double FirstStepMm = 3;
    private const double FinestStepMm = 0.1;
    private const double FarthestMm = 40;
    private const int MostAnswers = 120;

    private static readonly PaperApproachPrompts Around = new(
        PromptIds.ProbeOffsetTouchHandsClear, PromptIds.ProbeOffsetApproachHandsClear, PromptIds.ProbeOffsetDraw, PromptIds.ProbeOffsetLiftHandsClear);

    /// <summary>Does it.</summary>
    /// <param name="stored">The offset that the controller has now: where the search for the mark begins.</param>
    /// <returns>The offset found, Z untouched; null when it was called off or the mark was not reached.</returns>
    public async Task<ProbeOffset?> RunAsync(ProbeOffset stored)
    {
        await context.AskAsync(Prompts.Acknowledge(
            PromptIds.ProbeOffsetTape,
            FormattableString.Invariant($"Stick a small piece of removable tape on the bed around x {mark.X:0}, y {mark.Y:0} (from the left and from the front edge, mm), and have a fine pen ready. The nozzle must be cold and clean. Next the probe touches the bed there, then the nozzle comes down to the tape."),
            "The nozzle's place is marked on the bed; then the same place is looked for with the probe."));
        if (!await NozzleToMarkAsync())
        {
            return null;
        }

        await context.HandsClearAsync(
            PromptIds.ProbeOffsetProbeHandsClear,
            "The head moves so that the probe should stand over your mark, and the probe comes out. From then on each of your answers moves the head sideways by at most 3 mm. Keep your hands away from it. Hands clear?");
        var start = new BedPoint(mark.X - stored.X, mark.Y - stored.Y);
        if (!context.Profile.Travel.Nozzle.Contains(start))
        {
            return null;
        }

        await context.DoAsync(new MoveNozzle(start));
        await context.DoAsync(new ExtendProbe());
        BedPoint? found = await ProbeToMarkAsync(start);
        await context.DoAsync(new LiftToClearance());
        return found is { } nozzle ? new ProbeOffset(Math.Round(mark.X - nozzle.X, 2), Math.Round(mark.Y - nozzle.Y, 2), stored.Z) : null;
    }

    private async Task<bool> NozzleToMarkAsync()
    {
        var approach = new PaperApproach(context, mark, Around);
        PaperGround ground = await approach.TouchAsync(1);
        PaperOpening opening = await approach.OpenAsync(ground);
        double height = approach.NearBed(ground);
        await context.DoAsync(new MoveToHeight(height, context.Profile.Travel.LiftFeedMmPerMin));
        string answer = await AskHeightAsync();
        while (answer == "lower" && height - DownMm >= opening.LowestMm)
        {
            height = Math.Round(height - DownMm, 6);
            await context.DoAsync(new MoveToHeight(height, context.Profile.Travel.SlowFeedMmPerMin));
            answer = await AskHeightAsync();
        }

        if (answer == Touching)
        {
            await context.DoAsync(new DeclareContact(height));
            await context.AskAsync(Prompts.Acknowledge(
                PromptIds.ProbeOffsetDraw,
                "Nothing moves now. Draw a fine cross on the tape with its middle at the nozzle's tip, then take your hand away.",
                "The middle of the cross is what the probe's tip is brought over."));
        }

        await approach.CloseAsync(opening);
        return answer == Touching;
    }

    private async Task<string> AskHeightAsync() => (await context.AskAsync(Prompts.Choose(
        PromptIds.ProbeOffsetNozzleAtMark,
        "Look at the nozzle's tip from the side, hands away. Does it touch the tape? If not, the nozzle goes a tenth of a millimetre lower.",
        "Stop as soon as it touches, or when no light is left under it: it need not press.",
        (CallOff, "lift and end this"),
        (Touching, "it touches, or nearly"),
        ("lower", "not yet: a tenth lower")))).Value;

    private async Task<BedPoint?> ProbeToMarkAsync(BedPoint start)
    {
        BedPoint at = start;
        var alongX = new Search(0, FirstStepMm);
        var alongY = new Search(0, FirstStepMm);
        for (int asked = 0; asked < MostAnswers; asked++)
        {
            string seen = (await context.AskAsync(Prompts.Choose(
                PromptIds.ProbeOffsetProbeAtMark,
                "Look straight down at the probe's tip. Where is it, seen from your cross? The head moves as soon as you answer; if two are right, name the larger.",
                "The head goes the other way by a small step, and the steps get smaller each time you see it pass the cross.",
                (CallOff, "end this"),
                ("left", "left of the cross"),
                ("right", "right of the cross"),
                ("front", "in front of it, nearer to you"),
                ("back", "behind it"),
                (Over, "right over it")))).Value;
            switch (seen)
            {
                case CallOff:
                    return null;
                case Over:
                    return at;
                case "left" or "right":
                    alongX = alongX.Towards(seen == "left" ? 1 : -1);
                    at = at with { X = Math.Round(at.X + alongX.Move, 2) };
                    break;
                default:
                    alongY = alongY.Towards(seen == "front" ? 1 : -1);
                    at = at with { Y = Math.Round(at.Y + alongY.Move, 2) };
                    break;
            }

            if (at.DistanceTo(start) > FarthestMm || !context.Profile.Travel.Nozzle.Contains(at))
            {
                return null;
            }

            await context.DoAsync(new MoveNozzle(at));
        }

        return null;
    }

    /// <summary>A search along one axis: the step is halved whenever the direction turns.</summary>
    private readonly record struct Search(int Direction, double StepMm)
    {
        public double Move => Direction * StepMm;

        public Search Towards(int direction) =>
            new(direction, Direction == -direction ? Math.Max(StepMm / 2, FinestStepMm) : StepMm);
    }
}
