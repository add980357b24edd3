using ProbeRunner.Metrology.Results;
using ProbeRunner.Metrology.Verdicts;

namespace ProbeRunner.Metrology.Series;

/// <summary>Everything that is said about a series of readings at one place. What these readings cannot answer is a refusal with its reason.</summary>
public sealed record SeriesAnalysis
{
    private SeriesAnalysis(SeriesSummary summary, IReadOnlyList<double> readings, SeriesQuestion question)
    {
        Summary = summary;
        SigmaInterval = SigmaInterval.Of(summary.StandardDeviation, summary.Count - 1, question.Confidence);
        Mean = MeanInterval.Of(readings, question.Confidence);
        Outliers = Series.Outliers.Of(readings);
        Trend = Series.Trend.Of(readings);
        MannKendall = Series.MannKendall.Of(readings);
        Normality = Series.Normality.Of(readings);
        Autocorrelation = Series.Autocorrelation.Of(readings);
        Runs = RunsTest.Of(readings);
        WarmUp = Series.WarmUp.Of(readings);
        TwoLevels = Series.TwoLevels.Of(readings);
        Comb = Series.Comb.Find(readings);
        Periodicity = Series.Periodicity.Of(readings);
        Capability = question.Tolerance is { } tolerance
            ? Verdicts.Capability.Of(readings, question.Reference ?? summary.Mean, tolerance, question.Constants)
            : null;
        var test = new SequentialSigmaTest(question.Limits ?? new SigmaLimits());
        Steadiness = Steadiness.Of(readings, test.Limits.GoodSigma);
        Verdict = Steadiness.Temper(test.Judge(readings), readings, test);
        Defects = SeriesDefects.Of(this, readings);
    }

    /// <summary>Count, mean, median, scatter, range, autocorrelation.</summary>
    public SeriesSummary Summary { get; }

    /// <summary>Limits of sigma; normal, independent readings assumed.</summary>
    public SigmaInterval SigmaInterval { get; }

    /// <summary>Limits of the mean, widened for autocorrelation.</summary>
    public Answer<MeanInterval> Mean { get; }

    /// <summary>Readings that stand apart.</summary>
    public Answer<Outliers> Outliers { get; }

    /// <summary>Straight line over the ordinals.</summary>
    public Answer<Trend> Trend { get; }

    /// <summary>Test of drift.</summary>
    public Answer<MannKendall> MannKendall { get; }

    /// <summary>Test of normality.</summary>
    public Answer<Normality> Normality { get; }

    /// <summary>Lag 1, with its test.</summary>
    public Answer<Autocorrelation> Autocorrelation { get; }

    /// <summary>Stretches above and below the median.</summary>
    public Answer<RunsTest> Runs { get; }

    /// <summary>First touches against the rest.</summary>
    public Answer<WarmUp> WarmUp { get; }

    /// <summary>Two heights against one.</summary>
    public Answer<TwoLevels> TwoLevels { get; }

    /// <summary>Comb on which the readings sit; refused when there is none.</summary>
    public Answer<Comb> Comb { get; }

    /// <summary>Largest periodic swing.</summary>
    public Answer<Periodicity> Periodicity { get; }

    /// <summary>Type-1 study; null when no tolerance was given.</summary>
    public Answer<Capability>? Capability { get; }

    /// <summary>Whether the series stood still enough to be judged.</summary>
    public Steadiness Steadiness { get; }

    /// <summary>Fit, not fit or undecided; a series that drifts or warms up by more than the good limit is undecided.</summary>
    public SeriesVerdict Verdict { get; }

    /// <summary>What is wrong with the series, the surest first; empty when nothing shows at p &lt; 0.01.</summary>
    public IReadOnlyList<SeriesDefect> Defects { get; }

    /// <summary>Analyses readings in the order taken; refused for fewer than two or any that is not finite.</summary>
    /// <param name="readings">mm, in the order taken.</param>
    /// <param name="question">Limits, tolerance, confidence; the usual when null.</param>
    public static Answer<SeriesAnalysis> Analyse(IReadOnlyList<double> readings, SeriesQuestion? question = null) =>
        SeriesSummary.Of(readings).Then<SeriesAnalysis>(summary => new SeriesAnalysis(summary, readings, question ?? new SeriesQuestion()));
}
