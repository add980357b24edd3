using System.Collections.Immutable;
using ProbeRunner.Metrology.Budgets;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Procedures.Steps.StepDown;

/// <summary>One take: the ground it rests on and where the paper dragged.</summary>
internal sealed record OffsetTake(PaperGround Ground, PaperTakeResult Result)
{
    /// <summary>Drag height over the touches' mean, mm.</summary>
    public double DragOverTouchMm => Result.Drag!.ThresholdMm - Ground.MeanMm;
}

/// <summary>
/// The Z offset from all takes: the mean, weighted by their standard errors, of drag height minus touch height, minus the paper;
/// and its budget (JCGM 100:2008, 5.1.2). Takes that scatter more than their standard errors allow widen it.
/// </summary>
/// <param name="OffsetMm">(drag - touch) - paper.</param>
/// <param name="StandardUncertaintyMm">Combined.</param>
/// <param name="Contributions">The budget.</param>
/// <param name="TakeOffsetsMm">Each take's own.</param>
/// <param name="Agree">Whether the takes agree within three of their standard errors and 0.01 mm.</param>
internal sealed record OffsetEstimate(
    double OffsetMm, double StandardUncertaintyMm, ImmutableArray<BudgetLine> Contributions, ImmutableArray<double> TakeOffsetsMm, bool Agree)
{
    private const double LeastTouchSigmaMm = 0.002;

    /// <summary>Combines takes, one at least.</summary>
    public static OffsetEstimate Of(IReadOnlyList<OffsetTake> takes, StepDownParameters parameters, double zStepMm)
    {
        double[] weights = [.. takes.Select(take => 1 / Math.Pow(take.Result.Drag!.StandardErrorMm, 2))];
        double[] offsets = [.. takes.Select(take => take.DragOverTouchMm - parameters.PaperMm)];
        double offset = offsets.Zip(weights, (value, weight) => value * weight).Sum() / weights.Sum();
        double inner = 1 / Math.Sqrt(weights.Sum());
        double between = takes.Count < 2 ? 0 : Math.Sqrt(offsets.Sum(value => Math.Pow(value - offset, 2)) / (takes.Count - 1) / takes.Count);
        BudgetResult budget = UncertaintyBudget.Evaluate(
        [
            new Contribution("feel of the paper", 0, Math.Max(inner, between)),
            new Contribution("paper thickness", 0, parameters.PaperHalfWidthMm / Math.Sqrt(3)),
            new Contribution("touches", 0, TouchUncertainty(takes)),
            new Contribution("step of Z", 0, zStepMm / Math.Sqrt(12)),
        ]).Value;
        return new OffsetEstimate(
            offset,
            budget.Combined,
            [.. budget.Shares.Select(share => new BudgetLine(share.Name, share.Uncertainty, share.Share))],
            [.. offsets],
            AgreeWithin(takes, offsets));
    }

    /// <summary>Pooled scatter within the takes over the root of all touches; not less than a few micrometres' worth, whatever few equal readings say.</summary>
    private static double TouchUncertainty(IReadOnlyList<OffsetTake> takes)
    {
        int count = takes.Sum(take => take.Ground.Heights.Count);
        double squares = takes.Sum(take => take.Ground.Heights.Sum(height => Math.Pow(height - take.Ground.MeanMm, 2)));
        double sigma = count > takes.Count ? Math.Sqrt(squares / (count - takes.Count)) : LeastTouchSigmaMm;
        return Math.Max(sigma, LeastTouchSigmaMm) / Math.Sqrt(count);
    }

    private static bool AgreeWithin(IReadOnlyList<OffsetTake> takes, double[] offsets)
    {
        double worst = takes.Max(take => take.Result.Drag!.StandardErrorMm);
        return offsets.Max() - offsets.Min() <= (3 * Math.Sqrt(2) * worst) + 0.01;
    }
}
