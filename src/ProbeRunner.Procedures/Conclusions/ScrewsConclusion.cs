using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;

namespace ProbeRunner.Procedures.Conclusions;

/// <summary>The bed levelled with its screws.</summary>
/// <param name="Rounds">Each measuring, in order; the first is the bed as found, the second follows the trial turn.</param>
/// <param name="ToleranceMm">How far the bed may stand from its mean at a screw.</param>
/// <param name="BendMm">In the end: the middle above the plane through the screws.</param>
/// <param name="TwistMm">In the end: four screws alternately above and below a plane; 0 for three.</param>
public sealed record ScrewsConclusion(
    StepVerdict Verdict, ImmutableArray<Finding> Findings, ImmutableArray<ScrewRound> Rounds, double ToleranceMm, double BendMm, double TwistMm)
    : StepConclusion(Verdict, Findings);

/// <summary>One measuring near the screws.</summary>
/// <param name="Name">"found", "trial", "round 1" and so on.</param>
/// <param name="BendMm">The middle above the plane through the screws.</param>
/// <param name="TwistMm">Four screws alternately above and below a plane.</param>
public sealed record ScrewRound(string Name, ImmutableArray<ScrewState> Screws, double BendMm, double TwistMm);

/// <summary>A screw at one measuring.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Place">Where it is.</param>
/// <param name="HeightMm">The bed there above the mean of all screws.</param>
/// <param name="TurnedBefore">What was turned just before, clockwise seen from above positive; 0 for nothing.</param>
public sealed record ScrewState(string Name, BedPoint Place, double HeightMm, double TurnedBefore);
