using ProbeRunner.Metrology.Thresholds;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Procedures.Steps.StepDown;

/// <summary>
/// The answers of one take and what they say so far. An answer can be taken back; what was felt first decides where the threshold is looked for.
/// </summary>
internal sealed class PaperJudgement(PaperTakePlan plan, double stepMm)
{
    private const double BelowContactMm = 0.06;
    private const double AboveFirstMm = 0.4;
    private const double DeepestBelowContactMm = 0.04; // the guard allows 0.10; nothing is learned about the first drag down there
    private const double FalseContactMm = 0.02; // one standard deviation of a usual person's feel

    private readonly List<FeltHeight> _answers = [];
    private PaperThresholdTest? _test;
    private double _contact;

    /// <summary>The answers that stand.</summary>
    public IReadOnlyList<FeltHeight> Answers => _answers;

    /// <summary>Whether the paper was felt, so that the threshold is being closed in on.</summary>
    public bool IsFelt => _test is not null;

    /// <summary>What is believed of the threshold; null before the paper was felt.</summary>
    public ThresholdEstimate? Estimate => _test?.Estimate;

    /// <summary>Whether enough is known, or enough was asked.</summary>
    public bool IsDone => _test is { } test && (test.IsDone(plan.HalfWidthMm) || _answers.Count >= plan.MostAnswers);

    /// <summary>Takes an answer.</summary>
    public void Add(double heightMm, string felt)
    {
        _answers.Add(new FeltHeight(plan.Take, heightMm, felt));
        if (_test is null)
        {
            Begin();
        }
        else
        {
            _test = _test.With(heightMm, PaperWords.Meaning(felt));
        }
    }

    /// <summary>Takes the last answer back.</summary>
    /// <returns>The height it was given at.</returns>
    public double TakeBack()
    {
        double height = _answers[^1].HeightMm;
        _answers.RemoveAt(_answers.Count - 1);
        Begin();
        return height;
    }

    /// <summary>The height that tells most, once the paper was felt.</summary>
    public double NextHeight()
    {
        double highest = _answers.Where(answer => answer.Felt != PaperWords.Free).Max(answer => answer.HeightMm);
        return Math.Max(_test!.NextHeight(stepMm), highest - DeepestBelowContactMm);
    }

    /// <summary>What the take came to.</summary>
    public PaperTakeResult Result() => new([.. _answers], _test!.Estimate, false, _test.Estimate.ThresholdMm < _contact - FalseContactMm);

    /// <summary>Begins the test anew from the answers that stand; there is none before the first that was not free.</summary>
    private void Begin()
    {
        _test = null;
        int first = _answers.FindIndex(answer => answer.Felt != PaperWords.Free);
        if (first < 0)
        {
            return;
        }

        _contact = _answers[first].HeightMm;
        double[] freeAbove = [.. _answers.Take(first).Select(answer => answer.HeightMm).Where(height => height > _contact)];
        _test = PaperThresholdTest.Start(_contact - BelowContactMm, freeAbove.Length == 0 ? _contact + AboveFirstMm : freeAbove.Min() + BelowContactMm);
        foreach (FeltHeight answer in _answers)
        {
            _test = _test.With(answer.HeightMm, PaperWords.Meaning(answer.Felt));
        }
    }
}
