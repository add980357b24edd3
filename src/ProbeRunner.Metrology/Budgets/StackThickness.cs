using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Budgets;

/// <summary>
/// The thickness of one sheet from a stack of equal sheets (the bulking thickness of ISO 534): total over count. Two things make it uncertain: the
/// caliper, whose error is divided by the count, and how far one sheet differs from the stack's mean and the soft stack from a sheet.
/// </summary>
/// <param name="SheetMm">Thickness of one sheet, mm.</param>
/// <param name="Budget">Its budget, mm.</param>
public sealed record StackThickness(double SheetMm, BudgetResult Budget)
{
    /// <summary>A caliper read by hand, mm: the half width of a rectangular distribution; common practice, no source.</summary>
    public const double CaliperHalfWidthMm = 0.03;

    /// <summary>How far one sheet may differ from the mean, as a share of it: the half width of a rectangular distribution; from memory.</summary>
    public const double SheetShare = 0.03;

    /// <summary>Standard uncertainty of the sheet's thickness, mm.</summary>
    public double StandardUncertaintyMm => Budget.Combined;

    /// <summary>Computes it.</summary>
    /// <param name="sheets">How many sheets, 1 or more; ten make the caliper's error small.</param>
    /// <param name="totalMm">Thickness of the stack, mm, above 0.</param>
    public static Answer<StackThickness> Of(int sheets, double totalMm)
    {
        if (sheets < 1 || !(totalMm > 0) || !double.IsFinite(totalMm))
        {
            return Reason.OutOfRange("A stack has one sheet or more and a thickness above 0.");
        }

        double sheet = totalMm / sheets;
        return Contribution.FromDistribution("caliper", new RectangularDistribution(totalMm, CaliperHalfWidthMm)).Then(caliper =>
            Contribution.FromDistribution("one sheet against the stack", new RectangularDistribution(0, SheetShare * sheet)).Then(spread =>
                UncertaintyBudget.Evaluate([caliper with { Sensitivity = 1.0 / sheets }, spread]).Then<StackThickness>(budget => new StackThickness(sheet, budget))));
    }
}
