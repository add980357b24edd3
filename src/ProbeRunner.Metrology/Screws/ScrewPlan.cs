using System.Collections.Immutable;

namespace ProbeRunner.Metrology.Screws;

/// <summary>What to do at one screw.</summary>
/// <param name="Screw">The screw.</param>
/// <param name="HeightMm">Height of the fitted plane at the screw, mm.</param>
/// <param name="ExactTurns">Turns that would make the plane level, clockwise seen from above positive.</param>
/// <param name="RoundedTurns">The same in steps that a hand can do.</param>
/// <param name="RemainingMm">Height above the mean of all screws that is left after the rounded turns, mm.</param>
public sealed record ScrewTurn(AdjustingScrew Screw, double HeightMm, double ExactTurns, double RoundedTurns, double RemainingMm);

/// <summary>Turns that bring a tilted bed level.</summary>
/// <param name="Turns">One for each screw, in their order.</param>
/// <param name="RemainingRangeMm">Highest less lowest screw after the rounded turns, mm.</param>
public sealed record ScrewPlan(ImmutableArray<ScrewTurn> Turns, double RemainingRangeMm)
{
    /// <summary>Highest less lowest screw as found, mm.</summary>
    public double FoundRangeMm => Turns.Max(turn => turn.HeightMm) - Turns.Min(turn => turn.HeightMm);
}
