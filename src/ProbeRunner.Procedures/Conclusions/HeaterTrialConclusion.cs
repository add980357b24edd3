using System.Collections.Immutable;

namespace ProbeRunner.Procedures.Conclusions;

/// <summary>Heaters switched on for a moment and off again.</summary>
/// <param name="Heaters">Each that was tried.</param>
public sealed record HeaterTrialConclusion(StepVerdict Verdict, ImmutableArray<Finding> Findings, ImmutableArray<HeaterWatch> Heaters)
    : StepConclusion(Verdict, Findings);

/// <summary>One heater watched, degC.</summary>
/// <param name="Name">"nozzle" or "bed".</param>
/// <param name="BeganCelsius">Before it was switched on.</param>
/// <param name="SwitchedOffCelsius">When it was switched off again.</param>
/// <param name="TargetAfterCelsius">The target that the controller reported then; 0 is off.</param>
/// <param name="HighestCelsius">The highest seen afterwards.</param>
/// <param name="SettledAfter">How long after the switching off it no longer rose; null when it rose as long as it was watched.</param>
public sealed record HeaterWatch(
    string Name, double BeganCelsius, double SwitchedOffCelsius, double TargetAfterCelsius, double HighestCelsius, TimeSpan? SettledAfter);
