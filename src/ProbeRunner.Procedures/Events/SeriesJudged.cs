using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Procedures.Events;

/// <summary>A series was judged after a reading.</summary>
public sealed record SeriesJudged(TimeSpan At, string Step, SeriesSoFar SoFar) : RunEvent(At);

/// <summary>What a series says so far.</summary>
/// <param name="Verdict">The judgement; undecided until it is certain.</param>
/// <param name="StillNeeded">About how many more readings decide; 0 once decided.</param>
/// <param name="SigmaMm">Standard deviation; 0 before the second reading.</param>
/// <param name="LowerMm">Lower limit of its interval.</param>
/// <param name="UpperMm">Upper limit.</param>
/// <param name="GoodSigmaMm">A probe this good is fit.</param>
/// <param name="BadSigmaMm">A probe this bad is not.</param>
public sealed record SeriesSoFar(
    StepVerdict Verdict, int StillNeeded, double SigmaMm, double LowerMm, double UpperMm, double GoodSigmaMm, double BadSigmaMm);
