using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Guard;
using ProbeRunner.Procedures.Events;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Steps.StepDown;

/// <summary>
/// One take of the adaptive paper test at the nozzle's place, the guard opened before: a coarse descent until the paper is felt, then the
/// heights that tell most. Every height is reached from above, after a rise that takes up the backlash, in steps of at most 0.1 mm,
/// since a hand is on the paper. At any height the person may step by hand, take the last answer back, or call it off.
/// </summary>
internal sealed class PaperTake(StepContext context, PaperTakePlan plan)
{
    private const double StepWithinMm = 0.0995; // the guard allows 0.1; the rest is the rounding of a command
    private const double SlowStepMm = 0.05;
    private const double PositionToleranceMm = 0.02;
    private const int MostMeddling = 400; // steps by hand and answers taken back, beside the answers

    private readonly PaperJudgement _judgement = new(plan, context.Profile.Travel.ZStepMm);
    private readonly double _step = context.Profile.Travel.ZStepMm;
    private readonly double _largestStep = Math.Floor(StepWithinMm / context.Profile.Travel.ZStepMm) * context.Profile.Travel.ZStepMm;
    private double _highest;
    private double _lowest = plan.LowestMm;
    private double _at;
    private int _meddled;

    /// <summary>Runs the take.</summary>
    /// <param name="nowAtMm">Nozzle Z now, at or above the start.</param>
    public async Task<PaperTakeResult> RunAsync(double nowAtMm)
    {
        (_at, _highest) = (nowAtMm, nowAtMm);
        await StepToAsync(Rounded(plan.StartMm));
        while (true)
        {
            string answer = (await context.AskAsync(Question())).Value;
            switch (answer)
            {
                case PaperWords.CallOff:
                    return new PaperTakeResult([.. _judgement.Answers], null, true);
                case PaperWords.Up or PaperWords.Down or PaperWords.Undo:
                    await MeddleAsync(answer);
                    continue;
            }

            if (answer != PaperWords.Free)
            {
                await context.DoAsync(new DeclareContact(_at));
                _lowest = Math.Max(_lowest, RoundedUp(_at - GuardLimits.DeepestBeyondContactMm));
            }

            _judgement.Add(_at, answer);
            Show();
            if (_judgement.IsDone)
            {
                return _judgement.Result();
            }

            if (!await GoOnAsync())
            {
                return new PaperTakeResult([.. _judgement.Answers], null, false, FalseContact: _lowest > plan.LowestMm);
            }
        }
    }

    /// <returns>False when there is no lower height to go to.</returns>
    private async Task<bool> GoOnAsync()
    {
        if (_judgement.IsFelt)
        {
            await FromAboveAsync(Math.Max(Rounded(_judgement.NextHeight()), _lowest));
            return true;
        }

        double next = Rounded(_at - (_at > plan.SlowBelowMm ? plan.CoarseStepMm : Math.Min(plan.CoarseStepMm, SlowStepMm)));
        if (next < _lowest || _judgement.Answers.Count >= plan.MostAnswers)
        {
            return false;
        }

        await StepToAsync(next);
        return true;
    }

    /// <summary>A step by hand, or the last answer taken back. The guard forgets no contact: an answer taken back leaves its limit standing.</summary>
    private async Task MeddleAsync(string wish)
    {
        _meddled++;
        switch (wish)
        {
            case PaperWords.Undo:
                double height = _judgement.TakeBack();
                Show();
                await FromAboveAsync(Math.Max(height, _lowest)); // a contact felt since then may have closed that height
                break;
            case PaperWords.Up when Rounded(_at + _step) <= _highest:
                await FromAboveAsync(Rounded(_at + _step));
                break;
            case PaperWords.Down when Rounded(_at - _step) >= _lowest:
                await StepToAsync(Rounded(_at - _step));
                break;
            case PaperWords.Down:
                context.Warn("The nozzle goes no lower here: it is at the floor that the touch and the entered distance leave, or a tenth of a millimetre below the first height where something was felt. Answer what you feel, step up, or call it off.");
                break;
            default:
                context.Warn("The nozzle goes no higher while a hand is on the paper. Answer what you feel, step down, or call it off; then it lifts.");
                break;
        }
    }

    private void Show() => context.Show(
        at => new PaperFelt(at, context.StepName, plan.Take, [.. _judgement.Answers], _judgement.Estimate, plan.HalfWidthMm, plan.MostAnswers));

    private Prompt Question()
    {
        List<(string Word, string Label)> choices =
        [
            (PaperWords.CallOff, "lift and end the test"),
            (PaperWords.Free, "moves freely"),
            (PaperWords.Drags, "drags, still moves"),
            (PaperWords.Pinched, "is held"),
        ];
        if (_meddled < MostMeddling)
        {
            choices.Add((PaperWords.Up, FormattableString.Invariant($"by hand: {_step:0.####} mm higher, then asked again")));
            choices.Add((PaperWords.Down, FormattableString.Invariant($"by hand: {_step:0.####} mm lower, then asked again")));
            if (_judgement.Answers.Count > 0)
            {
                choices.Add((PaperWords.Undo, $"take the last answer (\"{_judgement.Answers[^1].Felt}\") back and judge that height again"));
            }
        }

        return Prompts.Choose(
            plan.PaperPromptId,
            $"Move the {plan.Gauge} under the nozzle. What does it do? The nozzle goes on to another height as soon as you answer.",
            "Free: as if the nozzle were not there. Drags: it moves, and you feel the nozzle on it. Pinched: it is held. Judge each height afresh; the order is mixed on purpose. After each answer the nozzle goes to another height, at most a tenth of a millimetre at a time.",
            [.. choices]);
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

    private double RoundedUp(double height) => Math.Round(Math.Ceiling((height / _step) - 1e-6) * _step, 6);
}
