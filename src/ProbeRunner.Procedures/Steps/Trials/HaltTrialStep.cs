using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Heat;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Steps.Trials;

/// <summary>The halt line tried while nothing can happen: cold, high above the bed, on the way up, a person watching. Everything is homed again afterwards.</summary>
internal sealed class HaltTrialStep(bool skip) : Step
{
    private const double ColdCelsius = 45;
    private const double FromMm = 40;
    private const double ToMm = 70;

    private static readonly TimeSpan OnTheWay = TimeSpan.FromSeconds(1);

    public override string Name => "halt-trial";

    public override string Title => "Does the halt line halt?";

    public override string Purpose => "The halt line asks the controller to cut motors and heaters at once. Whether it does, and how soon, is better known before it is needed. The mains switch stays the emergency stop.";

    public override string WhatGoodLooksLike => "The nozzle stops in the middle of its way up, and the axes can be pushed by hand. After a reset the machine answers and homes again.";

    public override Milestones Needs => Milestones.HomedXY | Milestones.HomedZ | Milestones.ProbeTested;

    public override bool NeedsPerson => true;

    public override bool IsGate => true;

    public override StepPlan Plan(MachineProfile profile) => new(Homings: skip ? 0 : 2, Motions: skip ? 0 : 4, Questions: skip ? 0 : 5, Exchanges: 2);

    /// <summary>Key: <c>skip</c>, whether it is left out; false unless said otherwise.</summary>
    public static Step Read(TomlSection section) => new HaltTrialStep(section.Flag("skip", false));

    internal override async Task<StepConclusion> RunAsync(StepContext context)
    {
        if (skip)
        {
            return NotTried("left out by skip = true");
        }

        Answer begin = await context.AskAsync(Prompts.Choose(
            PromptIds.HaltTrialBegin,
            "The nozzle goes high up, then up once more, and on that way the program sends the halt line. The motors then let go and the nozzle may sink a little. Afterwards you reset the controller by hand, and everything is homed again. Try it?",
            "Halting means: motors and heaters cut, position lost. It is done once, now, while all is cold and nothing is near the bed.",
            ("skip", "leave it out this time"),
            ("try", "try it")));
        if (begin.Value != "try")
        {
            return NotTried("left out by the person at the machine");
        }

        Temperatures heat = await context.DoAsync(new ReadTemperatures());
        if (Math.Max(heat.NozzleCelsius, heat.BedCelsius) > ColdCelsius || !heat.HeatersOff)
        {
            return Verdicts.Failed(HotFinding(heat));
        }

        await context.HandsClearAsync(PromptIds.HaltTrialHandsClear, "The nozzle goes up, and is halted on the way. Watch whether it stops short at once; one hand at the mains switch. Paper out, the other hand clear?");
        HaltTried tried = await context.InSectionAsync("halt", Retake.Continue, null, () => HaltAsync(context));
        Answer stopped = await context.AskAsync(Prompts.YesNo(
            PromptIds.HaltTrialStopped,
            "Did the nozzle stop short at once, and can you now push the head sideways by hand, gently?",
            "A head that moves freely shows that the motors were really cut. If it went on, or is held fast, the controller heard the halt line late or not at all."));
        await context.AskAsync(Prompts.Acknowledge(
            PromptIds.HaltTrialReset,
            "Now reset the controller: press its reset button, or switch the machine off, wait five seconds, and switch it on. Leave the USB cable in. Confirm when it has started; nothing moves then.",
            "A halted controller ignores everything until it is reset. If the connection is lost by that, the run stops safely: take it up again with resume."));
        MetAgain met = await context.InSectionAsync("meet again", Retake.Continue, null, () => context.DoAsync(new MeetAgain()));
        await context.HandsClearAsync(PromptIds.HaltTrialHomeHandsClear, "The controller answers. The nozzle lifts a little, then X, Y and Z are homed again; the probe touches the bed. Paper out, hands clear?");
        await context.InSectionAsync("home again", Retake.WhenInterrupted, null, () => HomeAgainAsync(context));
        return stopped.Value == "yes" && met.Heat.HeatersOff
            ? Verdicts.Done(tried.WasMoving ? "The halt line stopped the nozzle on its way; after a reset the controller came back with heaters off." : "The halt line cut the motors; after a reset the controller came back with heaters off.")
            : Verdicts.Failed(NotHaltedFinding(tried));
    }

    private static async Task<HaltTried> HaltAsync(StepContext context)
    {
        TravelProfile travel = context.Profile.Travel;
        await context.DoAsync(new LiftToClearance());
        await context.DoAsync(new MoveToHeight(Math.Min(FromMm, 0.4 * travel.HighestZ), travel.LiftFeedMmPerMin));
        return await context.DoAsync(new TryHalt(Math.Min(ToMm, 0.8 * travel.HighestZ), travel.LiftFeedMmPerMin, OnTheWay));
    }

    private static async Task<Done> HomeAgainAsync(StepContext context)
    {
        await context.DoAsync(new LiftUnhomed(context.Profile.Travel.FirstLiftMm));
        await context.DoAsync(new HomeAxes(Axes.XY));
        await context.DoAsync(new HomeAxes(Axes.Z));
        return default;
    }

    private static PlainConclusion NotTried(string why) => new(
        Verdicts.Fit($"The halt line was not tried: {why}."),
        [
            new Finding(
                "halt-trial.not-tried", "Whether the halt line halts was not tried.", null, "controller", 1, $"The trial was {why}.",
                "Count on the mains switch alone, and run proberunner run halt-trial when there is time."),
        ]);

    private static Finding NotHaltedFinding(HaltTried tried) => new(
        "halt-trial.did-not-halt", "The halt line did not stop the machine at once.", null, "controller", 1,
        tried.Taken ? "The line was handed over in time; the person saw the nozzle go on, or the motors hold." : "The operating system did not take the line.",
        "Only the mains switch stops this machine: keep it in reach whenever it moves or heats, and never let it run unattended. To go on attended all the same, leave this step out.");

    private static Finding HotFinding(Temperatures heat) => new(
        "halt-trial.not-cold", "The halt line is tried cold only.", null, "heaters", 1,
        FormattableString.Invariant($"Nozzle {heat.NozzleCelsius:0} degC, bed {heat.BedCelsius:0} degC, heaters {(heat.HeatersOff ? "off" : "on")}; {ColdCelsius:0} degC or less and off is wanted."),
        "Switch the heaters off, let everything cool, then do this step again.");
}
