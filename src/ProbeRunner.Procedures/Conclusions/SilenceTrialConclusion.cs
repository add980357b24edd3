using System.Collections.Immutable;
using ProbeRunner.Machine.Settings;

namespace ProbeRunner.Procedures.Conclusions;

/// <summary>Whether a controller switches its heaters off by itself when the computer goes silent.</summary>
/// <param name="Controller">Which controller it was: the proof is for this one alone.</param>
/// <param name="SilenceSeconds">How long nothing was said to it.</param>
/// <param name="SwitchedOff">Whether both heaters were off after that, as the controller itself said.</param>
public sealed record SilenceTrialConclusion(StepVerdict Verdict, ImmutableArray<Finding> Findings, ControllerIdentity Controller, double SilenceSeconds, bool SwitchedOff)
    : StepConclusion(Verdict, Findings);
