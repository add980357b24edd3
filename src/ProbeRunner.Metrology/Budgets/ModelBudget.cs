using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Budgets;

/// <summary>A budget whose value and sensitivities come from a measurement model (JCGM 100:2008, 5.1).</summary>
public static class ModelBudget
{
    // Below this part of the variance a second-order term is the rounding of its numerical derivative.
    private const double NegligibleShare = 1e-8;

    /// <summary>
    /// Evaluates the model at the estimates and propagates the uncertainties through its derivatives there. The sensitivities
    /// stated in the inputs are not used. Second-order terms are those of JCGM 100:2008, 5.1.2, note; they hold for
    /// independent, symmetric inputs, so they are left out when correlations are given.
    /// </summary>
    /// <param name="model">The result from the inputs' values; a smooth function around the estimates.</param>
    /// <param name="inputs">At least one; names unique.</param>
    /// <param name="correlations">Coefficients of correlated pairs; null or empty for independent inputs.</param>
    /// <param name="coverageProbability">For the expanded uncertainty; above 0, below 1.</param>
    public static Answer<ModelBudgetResult> Evaluate(
        MeasurementModel model,
        IReadOnlyList<Contribution> inputs,
        IReadOnlyList<Correlation>? correlations = null,
        double coverageProbability = UncertaintyBudget.UsualCoverage)
    {
        ArgumentNullException.ThrowIfNull(model);
        ArgumentNullException.ThrowIfNull(inputs);
        double[] at = [.. inputs.Select(input => input.Estimate)];
        if (inputs.Select(input => (input with { Sensitivity = 1 }).Check()).FirstOrDefault(wrong => wrong is not null) is { } reason)
        {
            return reason;
        }

        Contribution[] sensed = [.. inputs.Select((input, i) =>
            input with { Sensitivity = Derivatives.First(model, at, i, input.StandardUncertainty) })];
        double value = model(at);
        if (!double.IsFinite(value) || sensed.FirstOrDefault(input => !double.IsFinite(input.Sensitivity)) is not null)
        {
            return new Reason(RefusalKind.NotFinite, "The model gives no finite number at, or within one standard uncertainty of, its estimates.");
        }

        double[,] secondOrder = correlations is { Count: > 0 }
            ? new double[inputs.Count, inputs.Count]
            : SecondOrderTerms(model, sensed, at);
        return UncertaintyBudget.Evaluate(sensed, correlations, coverageProbability, value)
            .Then(budget => WithSecondOrder(budget, secondOrder, sensed));
    }

    private static Answer<ModelBudgetResult> WithSecondOrder(BudgetResult budget, double[,] secondOrder, Contribution[] sensed)
    {
        double sum = secondOrder.Cast<double>().Sum();
        double variance = (budget.Combined * budget.Combined) + sum;
        if (!double.IsFinite(variance) || variance < 0)
        {
            return Reason.Assumption("The model bends too much within the uncertainties for second-order terms; use a Monte Carlo run.");
        }

        var pairs = new List<SecondOrderTerm>();
        for (int first = 0; first < sensed.Length; first++)
        {
            for (int second = first; second < sensed.Length; second++)
            {
                double both = first == second ? secondOrder[first, first] : secondOrder[first, second] + secondOrder[second, first];
                if (Math.Abs(both) > NegligibleShare * variance)
                {
                    pairs.Add(new SecondOrderTerm(sensed[first].Name, sensed[second].Name, both));
                }
            }
        }

        return new ModelBudgetResult(budget, [.. sensed.Select(input => input.Sensitivity)], Math.Sqrt(variance), pairs);
    }

    private static double[,] SecondOrderTerms(MeasurementModel model, Contribution[] inputs, double[] at)
    {
        var terms = new double[inputs.Length, inputs.Length];
        for (int i = 0; i < inputs.Length; i++)
        {
            for (int j = 0; j < inputs.Length; j++)
            {
                (int, double Step) one = (i, inputs[i].StandardUncertainty);
                (int, double Step) other = (j, inputs[j].StandardUncertainty);
                double bend = Derivatives.Second(model, at, one, other);
                double slopeOfBend = Derivatives.Third(model, at, one, other);
                double scale = one.Step * one.Step * other.Step * other.Step;
                terms[i, j] = ((0.5 * bend * bend) + (inputs[i].Sensitivity * slopeOfBend)) * scale;
            }
        }

        return terms;
    }
}

/// <summary>What a model's budget comes to, with what its curvature adds.</summary>
/// <param name="Budget">The first-order result.</param>
/// <param name="Sensitivities">The model's derivatives at the estimates, in the order of the inputs.</param>
/// <param name="CombinedToSecondOrder">Combined standard uncertainty with second-order terms; equals the first-order one when they were left out.</param>
/// <param name="SecondOrderTerms">The pairs of inputs whose interaction changes the variance by more than a hundred-millionth.</param>
public sealed record ModelBudgetResult(
    BudgetResult Budget,
    IReadOnlyList<double> Sensitivities,
    double CombinedToSecondOrder,
    IReadOnlyList<SecondOrderTerm> SecondOrderTerms);

/// <summary>Variance that two inputs add together because the model is not linear (JCGM 100:2008, 5.1.2, note).</summary>
/// <param name="First">One input.</param>
/// <param name="Second">The other, or the same one for its own curvature.</param>
/// <param name="Variance">In the result's unit squared; may be negative.</param>
public sealed record SecondOrderTerm(string First, string Second, double Variance);
