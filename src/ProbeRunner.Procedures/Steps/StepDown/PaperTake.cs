using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Metrology.Thresholds;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Events;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Steps.StepDown;

/// <summary>How one take of the paper test is to be done.</summary>
/// <param name="Take">Which take, from 1.</param>
/// <param name="PaperPromptId">Id of the question.</param>
/// <param name="StartMm">Nozzle Z of the first question, from above.</param>
/// <param name="CoarseStepMm">Step of the first descent, at most 0.1.</param>
/// <param name="LowestMm">Nozzle Z, a multiple of the finest step, below which the descent is given up.</param>
/// <param name="HalfWidthMm">Half width of the 95 % interval at which the take is done.</param>
/// <param name="MostAnswers">Answers after which it is done in any case.</param>
internal sealed record PaperTakePlan(
    int Take, string PaperPromptId, double StartMm, double CoarseStepMm, double LowestMm, double HalfWidthMm, int MostAnswers);

/// <summary>What a take came to.</summary>
/// <param name="Answers">All answers, in order.</param>
/// <param name="Drag">Where the paper begins to drag; null when the take was called off or the paper never dragged.</param>
/// <param name="CalledOff">Whether the person called it off.</param>
/// <param name="FalseContact">
/// Whether the first contact was probably felt too high: the paper kept free below it, where the guard lets nothing go deeper. Such a take tells nothing.
/// </param>
internal sealed record PaperTakeResult(ImmutableArray<FeltHeight> Answers, ThresholdEstimate? Drag, bool CalledOff, bool FalseContact = false);

/// <summary>
/// One take of the adaptive paper test at the nozzle's place, the guard opened before: a coarse descent until the paper is felt, then the
/// heights that tell most. Every height is reached from above, after a rise that takes up the backlash, in steps of at most 0.1 mm,
/// since a hand is on the paper.
/// </summary>
internal sealed class PaperTake(StepContext context, PaperTakePlan plan)
{
    private const double StepWithinMm = 0.0995; // the guard allows 0.1; the rest is the rounding of a command
    private const double DeepestBelowContactMm = 0.04; // the guard allows 0.10; nothing is learned about the first drag down there
    private const double FalseContactMm = 0.02; // one standard deviation of a usual person's feel
    private const double PositionToleranceMm = 0.02;

    private readonly List<FeltHeight> _answers = [];
    private readonly double _step = context.Profile.Travel.ZStepMm;
    private readonly double _largestStep = Math.Floor(StepWithinMm / context.Profile.Travel.ZStepMm) * context.Profile.Travel.ZStepMm;
    private double _at;

    /// <summary>Runs the take.</summary>
    /// <param name="nowAtMm">Nozzle Z now, at or above the start.</param>
    public async Task<PaperTakeResult> RunAsync(double nowAtMm)
    {
        _at = nowAtMm;
        await StepToAsync(Rounded(plan.StartMm));
        double height = _at;
        while (true)
        {
            string felt = await AskAsync();
            if (felt == PaperWords.CallOff)
            {
                return new PaperTakeResult([.. _answers], null, true);
            }

            Show(null);
            if (felt != PaperWords.Free)
            {
                break;
            }

            height = Rounded(height - plan.CoarseStepMm);
            if (height < plan.LowestMm)
            {
                return new PaperTakeResult([.. _answers], null, false);
            }

            await StepToAsync(height);
        }

        return await RefineAsync();
    }

    private async Task<PaperTakeResult> RefineAsync()
    {
        double contact = _at;
        bool atOnce = _answers.Count == 1;
        PaperThresholdTest test = PaperThresholdTest.Start(contact - 0.06, contact + (atOnce ? 0.4 : plan.CoarseStepMm + 0.06));
        foreach (FeltHeight answer in _answers)
        {
            test = test.With(answer.HeightMm, PaperWords.Meaning(answer.Felt));
        }

        Show(test.Estimate);
        while (!test.IsDone(plan.HalfWidthMm) && _answers.Count < plan.MostAnswers)
        {
            double highestContact = _answers.Where(answer => answer.Felt != PaperWords.Free).Max(answer => answer.HeightMm);
            double next = Math.Max(test.NextHeight(_step), Math.Max(highestContact - DeepestBelowContactMm, plan.LowestMm));
            await FromAboveAsync(Rounded(next));
            string felt = await AskAsync();
            if (felt == PaperWords.CallOff)
            {
                return new PaperTakeResult([.. _answers], null, true);
            }

            test = test.With(_answers[^1].HeightMm, PaperWords.Meaning(felt));
            Show(test.Estimate);
        }

        return new PaperTakeResult([.. _answers], test.Estimate, false, test.Estimate.ThresholdMm < contact - FalseContactMm);
    }

    private void Show(ThresholdEstimate? estimate) => context.Show(
        at => new PaperFelt(at, context.StepName, plan.Take, [.. _answers], estimate, plan.HalfWidthMm, plan.MostAnswers));

    private async Task<string> AskAsync()
    {
        Answer answer = await context.AskAsync(Prompts.Choose(
            plan.PaperPromptId,
            "Move the paper under the nozzle. What does it do?",
            "Free: as if the nozzle were not there. Drags: it moves, and you feel the nozzle on it. Pinched: it is held. Judge each height afresh; the order is mixed on purpose.",
            (PaperWords.CallOff, "lift and end the test"),
            (PaperWords.Free, "moves freely"),
            (PaperWords.Drags, "drags, still moves"),
            (PaperWords.Pinched, "is held")));
        if (answer.Value != PaperWords.CallOff)
        {
            _answers.Add(new FeltHeight(plan.Take, _at, answer.Value));
            if (answer.Value != PaperWords.Free)
            {
                await context.DoAsync(new DeclareContact(_at));
            }
        }

        return answer.Value;
    }

    /// <summary>Goes to a height from a tenth of a millimetre above it.</summary>
    private async Task FromAboveAsync(double height)
    {
        await StepToAsync(Rounded(height + _largestStep));
        await StepToAsync(height);
    }

    private async Task StepToAsync(double height)
    {
        while (Math.Abs(_at - height) > _step / 2)
        {
            double next = Rounded(_at + Math.Clamp(height - _at, -_largestStep, _largestStep));
            NozzlePosition now = await context.DoAsync(new MoveToHeight(next, context.Profile.Travel.SlowFeedMmPerMin));
            if (Math.Abs(now.Z - next) > PositionToleranceMm)
            {
                throw new StepFailedException(FormattableString.Invariant(
                    $"The nozzle was sent to {next:0.000} mm and the controller says {now.Z:0.000} mm, so heights can't be trusted. The test ends here. Check the controller's own travel limits and the profile's lowest Z."));
            }

            _at = next;
        }
    }

    private double Rounded(double height) => Math.Round(Math.Round(height / _step) * _step, 6);
}
