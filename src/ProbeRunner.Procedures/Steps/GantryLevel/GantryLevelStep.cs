using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Heat;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Steps.GantryLevel;

/// <summary>
/// Levels a gantry that hangs on two Z drives: motors let go, both ends brought by hand to rest on equal blocks on the frame, homed again.
/// A machine with one drive has nothing to level.
/// </summary>
/// <param name="heightMm">How high the nozzle stands above the bed while the blocks are put in.</param>
internal sealed class GantryLevelStep(double heightMm) : Step
{
    private const double CoolCelsius = 45;
    private const int MostLooks = 8;
    private const string BothRest = "both-rest";
    private const string CallOff = "call-off";

    public override string Name => "gantry-level";

    public override string Title => "Gantry levelled on blocks";

    public override string Purpose => "Where each end of the gantry has a drive of its own, the two come apart whenever the motors let go. Everything measured on a crooked gantry takes its slope for the bed's.";

    public override string WhatGoodLooksLike => "Both ends rest on equal blocks, and a slip of paper under each is held alike.";

    public override Milestones Needs => Milestones.HomedXY | Milestones.HomedZ | Milestones.ProbeTested;

    public override Milestones Gives => Milestones.GantryLevel;

    public override bool NeedsPerson => true;

    public override StepPlan Plan(MachineProfile profile) => profile.Travel.ZDrives < 2 ? new() : new(Homings: 3, Motions: 3, Questions: 8);

    /// <summary>Key: <c>height_mm</c>, how high the nozzle waits above the bed, 20 to 150; 60 unless said otherwise.</summary>
    public static Step Read(TomlSection section) => new GantryLevelStep(section.Number("height_mm", 20, 150, 60));

    internal override async Task<StepConclusion> RunAsync(StepContext context)
    {
        if (context.Profile.Travel.ZDrives < 2)
        {
            return Verdicts.Done("The gantry of this machine has one Z drive; its ends can't come apart, so there is nothing to level.");
        }

        Temperatures heat = await context.DoAsync(new ReadTemperatures());
        if (!heat.HeatersOff || Math.Max(heat.NozzleCelsius, heat.BedCelsius) > CoolCelsius)
        {
            return Conclude([], new Finding(
                "gantry-level.hot", "The machine is too hot to be handled, so the gantry was not levelled.", null, "gantry", 1,
                FormattableString.Invariant($"Nozzle {heat.NozzleCelsius:0} degC, bed {heat.BedCelsius:0} degC; hands work near both."),
                FormattableString.Invariant($"Switch the heaters off, wait until both are below {CoolCelsius:0} degC, then run the step again.")));
        }

        string[] seen = await context.InSectionAsync("level", Retake.WhenInterrupted, null, () => LevelAsync(context));
        return seen[^1] switch
        {
            BothRest => Conclude(seen, null),
            CallOff => Conclude(seen, new Finding(
                "gantry-level.called-off", "The levelling of the gantry was called off.", null, "gantry", 1, "Called off by the person.",
                "Run the step again before the screws, the lean or a capture: with the motors let go the ends may stand farther apart than before.")),
            _ => Conclude(seen, new Finding(
                "gantry-level.does-not-rest", "The ends of the gantry could not be brought to rest on their blocks.", null, "gantry", 0.9,
                FormattableString.Invariant($"{seen.Length} looks, and one end was off its block each time."),
                "See that the blocks are equal and stand flat, that nothing holds the carriage, and that each drive turns freely by hand; then run the step again.")),
        };
    }

    private async Task<string[]> LevelAsync(StepContext context)
    {
        await context.HandsClearAsync(
            PromptIds.GantryLevelRiseHandsClear,
            FormattableString.Invariant($"Z is homed, then the gantry rises until the nozzle is {heightMm:0} mm above the bed. Nothing under the gantry, hands clear?"));
        await context.DoAsync(new HomeAxes(Axes.Z));
        await context.DoAsync(new LiftToClearance());
        await context.DoAsync(new MoveNozzle(context.Profile.Travel.HomingPlace));
        await context.DoAsync(new MoveToHeight(Math.Min(heightMm, context.Profile.Travel.HighestZ - 10), context.Profile.Travel.LiftFeedMmPerMin));
        await context.AskAsync(Prompts.Acknowledge(
            PromptIds.GantryLevelBlocks,
            "Stand two equal blocks on the frame, one under each end of the gantry, a little below it. When you go on the motors let go: the gantry may sink on its own, so keep fingers out from under it and turn the drives by their couplings only.",
            "Equal blocks on the frame make both ends equally high, whatever the drives did. Next you lower each end until it rests."));
        await context.DoAsync(new ReleaseMotors());
        List<string> seen = await LowerEndsAsync(context);
        await context.HandsClearAsync(
            PromptIds.GantryLevelLiftHandsClear,
            "Leave the blocks where they are. The motors hold again and the gantry lifts straight up off the blocks. Hands clear?");
        await context.DoAsync(new LiftUnhomed(context.Profile.Travel.FirstLiftMm));
        await context.AskAsync(Prompts.Acknowledge(
            PromptIds.GantryLevelBlocksOut, "Take both blocks away now; nothing moves until you go on.", "The next motion is a homing, and whatever stands under the gantry would be hit."));
        await context.HandsClearAsync(PromptIds.GantryLevelHomeHandsClear, "All axes are homed again. Blocks away, paper out, hands clear?");
        await context.DoAsync(new HomeAxes(Axes.XY));
        await context.DoAsync(new HomeAxes(Axes.Z));
        return [.. seen];
    }

    private static async Task<List<string>> LowerEndsAsync(StepContext context)
    {
        var seen = new List<string>();
        while (seen.Count < MostLooks)
        {
            Answer ends = await context.AskAsync(Prompts.Choose(
                PromptIds.GantryLevelEnds,
                "Look at both ends of the gantry, a slip of paper under each. Which end is off its block?",
                "An end that rests holds the paper; one that is off lets it slide out. If both are off, name the higher one.",
                (CallOff, "end this"),
                ("left-off", "the left end is off, or higher"),
                ("right-off", "the right end is off, or higher"),
                (BothRest, "both rest, and hold the paper alike")));
            seen.Add(ends.Value);
            if (ends.Value is CallOff or BothRest)
            {
                break;
            }

            string end = ends.Value == "left-off" ? "left" : "right";
            await context.AskAsync(Prompts.Acknowledge(
                PromptIds.GantryLevelTurn,
                $"Turn the {end} Z drive by hand at its coupling, downwards, until the {end} end just rests on its block. Then go on and look again.",
                "It should rest, not press: a pressed end lifts the other.") with
            { About = end });
        }

        return seen;
    }

    private static GantryLevelConclusion Conclude(string[] seen, Finding? wrong) => wrong is null
        ? new GantryLevelConclusion(
            Verdicts.Fit("Both ends of the gantry rest alike on equal blocks. It holds until the motors let go: standing idle, a reset, or the mains switch; level again after each.", 0.9), [], [.. seen])
        : new GantryLevelConclusion(wrong.Id == "gantry-level.does-not-rest" ? Verdicts.NotFit(wrong.Title, wrong.Confidence) : Verdicts.Undecided(wrong.Title), [wrong], [.. seen]);
}
