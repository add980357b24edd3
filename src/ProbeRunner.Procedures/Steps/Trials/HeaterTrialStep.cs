using System.Collections.Immutable;
using ProbeRunner.Machine.Heat;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Steps.Trials;

/// <summary>Each heater is switched on until it just begins to warm, then off, and watched until it no longer rises.</summary>
internal sealed class HeaterTrialStep(ImmutableArray<string> heaters) : Step
{
    private const double LowTargetCelsius = 35;
    private const double AboveNowKelvin = 8;
    private const double SettledKelvin = 0.3;

    private static readonly TimeSpan Look = TimeSpan.FromSeconds(2);
    private static readonly TimeSpan LongestWarming = TimeSpan.FromSeconds(180);
    private static readonly TimeSpan LongestWatch = TimeSpan.FromSeconds(180);
    private static readonly TimeSpan Settling = TimeSpan.FromSeconds(20);

    private static readonly Dictionary<string, ImmutableArray<string>> Choices = new(StringComparer.Ordinal)
    {
        ["both"] = ["nozzle", "bed"],
        ["nozzle"] = ["nozzle"],
        ["bed"] = ["bed"],
        ["none"] = [],
    };

    public override string Name => "heater-trial";

    public override string Title => "Do the heaters switch off?";

    public override string Purpose => "A heater that can't be switched off is a fire. Whether it can is seen while it is barely warm and a person is there.";

    public override string WhatGoodLooksLike => "Nozzle and bed each get a few degrees warmer, and stop getting warmer soon after they were switched off.";

    public override bool NeedsPerson => true;

    public override bool Heats => !heaters.IsEmpty;

    public override bool IsGate => true;

    public override StepPlan Plan(MachineProfile profile) => new(Questions: 1, Exchanges: 40 * heaters.Length);

    /// <summary>Key: <c>heaters</c>, which are tried: both, nozzle, bed or none; both unless said otherwise.</summary>
    public static Step Read(TomlSection section) => new HeaterTrialStep(section.OneOf("heaters", Choices, "both"));

    internal override async Task<StepConclusion> RunAsync(StepContext context)
    {
        if (heaters.IsEmpty)
        {
            return NotTried("left out by heaters = \"none\"");
        }

        Answer begin = await context.AskAsync(Prompts.Choose(
            PromptIds.HeaterTrialBegin,
            FormattableString.Invariant($"Caution: heat. Each heater ({string.Join(", ", heaters)}) is switched on until it is a few degrees warmer, then off again; that takes a minute or two, and nothing moves. Stay here with a hand near the mains switch, touch neither nozzle nor bed, and switch off if you smell or see anything unusual. Begin?"),
            "A heater that can't be switched off must be found now, barely warm, and not at night.",
            ("skip", "leave it out this time"),
            ("try", "I stay here: try the heaters")));
        if (begin.Value != "try")
        {
            return NotTried("left out by the person at the machine");
        }

        var watched = ImmutableArray.CreateBuilder<HeaterWatch>();
        foreach (string heater in heaters)
        {
            HeaterWatch watch = await context.InSectionAsync(heater, Retake.WhenInterrupted, null, () => WatchAsync(context, heater));
            watched.Add(watch);
            context.Remark(FormattableString.Invariant($"The {heater}: {watch.BeganCelsius:0.0} degC, {watch.SwitchedOffCelsius:0.0} when switched off, {watch.HighestCelsius:0.0} at most afterwards."));
        }

        ImmutableArray<Finding> findings = HeaterTrialJudgement.Of(watched);
        return new HeaterTrialConclusion(
            findings.IsEmpty ? Verdicts.Fit($"The heaters of {string.Join(" and ", heaters)} warm when told to, and switch off.") : Verdicts.NotFit(findings[0].Title),
            findings,
            watched.ToImmutable());
    }

    private static async Task<HeaterWatch> WatchAsync(StepContext context, string heater)
    {
        double began = await CelsiusAsync(context, heater);
        HeatProfile caps = context.Profile.Heat;
        double target = Math.Min(Math.Max(LowTargetCelsius, Math.Ceiling(began + AboveNowKelvin)), heater == "nozzle" ? caps.NozzleCapCelsius : caps.BedCapCelsius);
        await context.DoAsync(heater == "nozzle" ? new SetHeaterTargets(target, null) : new SetHeaterTargets(null, target));
        double now = began;
        for (TimeSpan on = TimeSpan.Zero; on < LongestWarming && now - began < HeaterTrialJudgement.LeastRiseKelvin; on += Look)
        {
            await context.DoAsync(new StandStill(Look));
            now = await CelsiusAsync(context, heater);
        }

        await context.DoAsync(new SetHeaterTargets(0, 0));
        Temperatures off = await context.DoAsync(new ReadTemperatures());
        var after = new List<double> { now };
        TimeSpan? settled = null;
        for (TimeSpan since = Look; since <= LongestWatch && settled is null && after.Max() - now <= HeaterTrialJudgement.MostOvershootKelvin; since += Look)
        {
            await context.DoAsync(new StandStill(Look));
            after.Add(await CelsiusAsync(context, heater));
            int window = (int)(Settling / Look);
            settled = after.Count > window && after[^1] - after[^(window + 1)] <= SettledKelvin ? since : null;
        }

        return new HeaterWatch(heater, began, now, heater == "nozzle" ? off.NozzleTargetCelsius : off.BedTargetCelsius, after.Max(), settled);
    }

    private static async Task<double> CelsiusAsync(StepContext context, string heater)
    {
        Temperatures heat = await context.DoAsync(new ReadTemperatures());
        return heater == "nozzle" ? heat.NozzleCelsius : heat.BedCelsius;
    }

    private static HeaterTrialConclusion NotTried(string why) => new(
        Verdicts.Fit($"The heaters were not tried: {why}."),
        [
            new Finding(
                "heater-trial.not-tried", "That the heaters switch off was not shown.", null, "heaters", 1, $"The trial was {why}.",
                "Run proberunner run heater-trial before anything is heated unattended."),
        ],
        []);
}
