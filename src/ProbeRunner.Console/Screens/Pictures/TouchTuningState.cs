using System.Collections.Immutable;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Console.Screens.Pictures;

/// <summary>Faster touches against the slow reference.</summary>
/// <param name="Candidates">In the order tried.</param>
/// <param name="MarginMm">A mean within plus or minus this counts as the same.</param>
internal sealed record TouchTuningState(ImmutableArray<TouchCandidate> Candidates, double MarginMm) : PictureState;

/// <summary>One way of touching.</summary>
/// <param name="Name">"300 mm/min, lift 2 mm".</param>
/// <param name="DifferenceMm">Its mean less the reference's.</param>
/// <param name="LowerMm">Lower limit of that interval.</param>
/// <param name="UpperMm">Upper limit.</param>
/// <param name="SigmaMm">Its scatter.</param>
/// <param name="SecondsPerTouch">What a touch takes.</param>
/// <param name="Same">Whether it is as good as the reference.</param>
internal sealed record TouchCandidate(
    string Name, double DifferenceMm, double LowerMm, double UpperMm, double SigmaMm, double SecondsPerTouch, VerdictWord Same);
