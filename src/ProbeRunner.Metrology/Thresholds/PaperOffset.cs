using ProbeRunner.Metrology.Budgets;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Thresholds;

/// <summary>One take of the paper test with the touches it rests on, all in one datum epoch.</summary>
/// <param name="TouchHeightsMm">Trigger heights, mm; one at least.</param>
/// <param name="DragMm">Height at which the paper began to drag, mm.</param>
/// <param name="DragStandardErrorMm">Its standard uncertainty, mm, above 0.</param>
public sealed record PaperTakeHeights(IReadOnlyList<double> TouchHeightsMm, double DragMm, double DragStandardErrorMm)
{
    /// <summary>Mean of the touches, mm.</summary>
    public double TouchMeanMm => TouchHeightsMm.Average();

    /// <summary>Drag height over the touches' mean, mm.</summary>
    public double DragOverTouchMm => DragMm - TouchMeanMm;
}

/// <summary>
/// The Z offset from all takes: the mean, weighted by their standard errors (weights 1/u^2), of drag height minus touch height, minus what lies
/// between nozzle and bed; and its budget (JCGM 100:2008, 5.1.2). Takes that scatter more than their standard errors allow widen it.
/// </summary>
/// <param name="OffsetMm">(drag - touch) - gauge, mm.</param>
/// <param name="Budget">The budget behind its standard uncertainty.</param>
/// <param name="TakeOffsetsMm">Each take's own, mm.</param>
/// <param name="Agree">Whether the takes agree within 3 root 2 of the largest standard error and 0.01 mm.</param>
public sealed record PaperOffset(double OffsetMm, BudgetResult Budget, IReadOnlyList<double> TakeOffsetsMm, bool Agree)
{
    /// <summary>A few equal readings do not make a perfect probe, mm; common practice, no source.</summary>
    private const double LeastTouchSigmaMm = 0.002;

    private const double AgreementMm = 0.01;

    /// <summary>Combined standard uncertainty, mm.</summary>
    public double StandardUncertaintyMm => Budget.Combined;

    /// <summary>Combines takes.</summary>
    /// <param name="takes">One at least.</param>
    /// <param name="gaugeMm">Thickness that is taken off, mm; 0 where Z = 0 means that the paper just drags.</param>
    /// <param name="gaugeUncertaintyMm">Its standard uncertainty, mm, 0 or more; 0 where nothing is taken off.</param>
    /// <param name="zStepMm">Finest step of Z, mm.</param>
    public static Answer<PaperOffset> Of(IReadOnlyList<PaperTakeHeights> takes, double gaugeMm, double gaugeUncertaintyMm, double zStepMm)
    {
        ArgumentNullException.ThrowIfNull(takes);
        if (takes.Count == 0)
        {
            return Reason.TooFew("An offset", 1, 0);
        }

        if (takes.Any(take => take.TouchHeightsMm.Count == 0 || !(take.DragStandardErrorMm > 0) || !double.IsFinite(take.DragOverTouchMm)))
        {
            return Reason.OutOfRange("Every take needs a touch, a finite drag height and a standard error above 0.");
        }

        double[] weights = [.. takes.Select(take => 1 / (take.DragStandardErrorMm * take.DragStandardErrorMm))];
        double[] offsets = [.. takes.Select(take => take.DragOverTouchMm - gaugeMm)];
        double offset = offsets.Zip(weights, (value, weight) => value * weight).Sum() / weights.Sum();
        double inner = 1 / Math.Sqrt(weights.Sum());
        double between = takes.Count < 2 ? 0 : Math.Sqrt(offsets.Sum(value => (value - offset) * (value - offset)) / (takes.Count - 1) / takes.Count);
        double worst = takes.Max(take => take.DragStandardErrorMm);
        return UncertaintyBudget.Evaluate(
        [
            new Contribution("feel of the paper", 0, Math.Max(inner, between)),
            new Contribution("paper thickness", 0, gaugeUncertaintyMm),
            new Contribution("touches", 0, TouchUncertainty(takes)),
            new Contribution("step of Z", 0, zStepMm / Math.Sqrt(12)),
        ]).Then<PaperOffset>(budget => new PaperOffset(
            offset, budget, offsets, offsets.Max() - offsets.Min() <= (3 * Math.Sqrt(2) * worst) + AgreementMm));
    }

    /// <summary>Pooled scatter within the takes over the root of all touches.</summary>
    private static double TouchUncertainty(IReadOnlyList<PaperTakeHeights> takes)
    {
        int count = takes.Sum(take => take.TouchHeightsMm.Count);
        double squares = takes.Sum(take => take.TouchHeightsMm.Sum(height => Math.Pow(height - take.TouchMeanMm, 2)));
        double sigma = count > takes.Count ? Math.Sqrt(squares / (count - takes.Count)) : LeastTouchSigmaMm;
        return Math.Max(sigma, LeastTouchSigmaMm) / Math.Sqrt(count);
    }
}
