using ProbeRunner.Metrology.Budgets;
using ProbeRunner.Metrology.Conformity;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Gaps;

/// <summary>
/// The nozzle-to-bed gap while the first layer is laid: the height that was set, plus every effect that comes between it and the bed.
/// The effects are taken as independent of one another.
/// </summary>
/// <param name="FirstLayerHeightMm">The set height, above 0.</param>
/// <param name="AdhesionWindow">Gaps at which plastic sticks and is not squashed away, mm.</param>
/// <param name="Effects">At least one.</param>
public sealed record GapModel(double FirstLayerHeightMm, Limits AdhesionWindow, IReadOnlyList<IGapEffect> Effects)
{
    /// <summary>
    /// The gap expected at a place. The probability of the adhesion window is taken from a t distribution with the budget's effective
    /// degrees of freedom (JCGM 100:2008, G.4), normal when those are unlimited.
    /// </summary>
    public Answer<GapAssessment> At(double xMm, double yMm)
    {
        if (!double.IsFinite(xMm) || !double.IsFinite(yMm) || !(FirstLayerHeightMm > 0 && double.IsFinite(FirstLayerHeightMm)))
        {
            return Reason.OutOfRange("A gap needs a finite place and a first-layer height above 0.");
        }

        if (Effects.Count == 0)
        {
            return Reason.TooFew("A gap model", 1, 0);
        }

        GapTerm[] terms = [.. Effects.Select(effect => effect.At(xMm, yMm))];
        IEnumerable<Contribution> contributions = terms
            .Select(term => new Contribution(term.Name, term.ExpectedMm, term.StandardUncertaintyMm) { DegreesOfFreedom = term.DegreesOfFreedom })
            .Prepend(new Contribution("set first-layer height", FirstLayerHeightMm, 0));
        return UncertaintyBudget.Evaluate([.. contributions]).Then(budget =>
            ConformityProbability.Of(budget.Value, budget.Combined, AdhesionWindow, budget.EffectiveDegreesOfFreedom)
                .Then<GapAssessment>(inside => new GapAssessment(
                    xMm, yMm, budget.Value, budget.Combined, inside, terms, terms.MaxBy(MeanSquare)!, budget)));
    }

    private static double MeanSquare(GapTerm term) =>
        (term.ExpectedMm * term.ExpectedMm) + (term.StandardUncertaintyMm * term.StandardUncertaintyMm);
}
