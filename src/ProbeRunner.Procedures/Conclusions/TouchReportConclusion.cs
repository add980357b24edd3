using System.Collections.Immutable;
using ProbeRunner.Machine.Touches;

namespace ProbeRunner.Procedures.Conclusions;

/// <summary>Whether the controller reports of a touch what the dialect takes it to.</summary>
/// <param name="Touches">Touches with their reports and the position asked for afterwards.</param>
/// <param name="WithOtherOffset">Touches at the same place under a Z offset changed for the check; empty when that was not needed.</param>
public sealed record TouchReportConclusion(
    StepVerdict Verdict, ImmutableArray<Finding> Findings, ImmutableArray<TouchCheck> Touches, ImmutableArray<TouchCheck> WithOtherOffset)
    : StepConclusion(Verdict, Findings);
