using System.Collections.Immutable;

namespace ProbeRunner.Procedures.Conclusions;

/// <summary>The gantry levelled by hand on equal blocks, on a machine with a Z drive at each end. A release of the motors undoes it.</summary>
/// <param name="Seen">What the person saw of the two ends, look by look: "left-off", "right-off" or "both-rest".</param>
public sealed record GantryLevelConclusion(StepVerdict Verdict, ImmutableArray<Finding> Findings, ImmutableArray<string> Seen)
    : StepConclusion(Verdict, Findings);
