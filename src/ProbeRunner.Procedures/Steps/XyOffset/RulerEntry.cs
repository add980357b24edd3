using System.Globalization;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Procedures.Operators;

namespace ProbeRunner.Procedures.Steps.XyOffset;

/// <summary>Asks on which side of the nozzle the probe is and how far, never for a sign.</summary>
internal static class RulerEntry
{
    private const double FarthestMm = 150;

    /// <summary>The offset that follows, with a Z that is not touched.</summary>
    public static async Task<ProbeOffset> AskAsync(StepContext context, double zMm)
    {
        double x = await AxisAsync(
            context, PromptIds.ProbeOffsetSideX, PromptIds.ProbeOffsetDistanceX,
            "Stand before the machine. On which side of the nozzle is the probe's tip?", "left", "right");
        double y = await AxisAsync(
            context, PromptIds.ProbeOffsetSideY, PromptIds.ProbeOffsetDistanceY,
            "Is the probe's tip nearer to you than the nozzle, or farther away?", "front", "back");
        return new ProbeOffset(x, y, zMm);
    }

    private static async Task<double> AxisAsync(StepContext context, string sideId, string distanceId, string question, string negative, string positive)
    {
        Answer side = await context.AskAsync(Prompts.Choose(
            sideId,
            question,
            "The program makes the sign from the side, so that it can't be mistaken.",
            ("same-line", "neither: in one line with it"),
            (negative, negative == "left" ? "left of the nozzle" : "nearer to you, in front of it"),
            (positive, positive == "right" ? "right of the nozzle" : "farther away, behind it")));
        if (side.Value == "same-line")
        {
            return 0;
        }

        Answer distance = await context.AskAsync(new Prompt(
            distanceId,
            PromptKind.Number,
            $"How far {(side.Value is "left" or "right" ? "to that side" : "in that direction")}, from the middle of the nozzle's tip to the middle of the probe's?",
            "Hold a ruler to both tips, level with the axis. Half a millimetre is good enough.",
            [],
            "mm",
            0,
            FarthestMm));
        double mm = double.Parse(distance.Value, CultureInfo.InvariantCulture);
        return side.Value == negative ? -mm : mm;
    }
}
