using System.Collections.Immutable;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Procedures.Events;

/// <summary>The bed was measured near its screws.</summary>
/// <param name="Round">How it stands.</param>
/// <param name="Turns">Turns that would level it, one for each screw, clockwise seen from above positive.</param>
/// <param name="ToleranceMm">How far the bed may stand from its mean at a screw.</param>
public sealed record ScrewsMeasured(TimeSpan At, string Step, ScrewRound Round, ImmutableArray<double> Turns, double ToleranceMm) : RunEvent(At);
