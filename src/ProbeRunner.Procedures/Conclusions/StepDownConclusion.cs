using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;

namespace ProbeRunner.Procedures.Conclusions;

/// <summary>The paper-drag test and the Z offset that follows.</summary>
/// <param name="TouchHeightMm">Mean trigger height at the place, same epoch.</param>
/// <param name="DragHeightMm">Estimated height at which the paper drags.</param>
/// <param name="PaperThicknessMm">Taken off; 0 where Z = 0 means that the paper just drags.</param>
/// <param name="OffsetMm">(drag - touch) - paper.</param>
/// <param name="StandardUncertaintyMm">Of the offset: touches, threshold, paper, step.</param>
/// <param name="Contributions">The budget behind it.</param>
/// <param name="TakeOffsetsMm">Estimate of each take, for their agreement.</param>
/// <param name="Provisional">Taken cold, or otherwise not as printed.</param>
/// <param name="Conditions">Temperatures, soak and plate, in words.</param>
/// <param name="ZeroMeans">What Z = 0 is with this offset: "touching" or "paper" (the paper just drags).</param>
/// <param name="Gauge">What lay between nozzle and bed, and how its thickness is known, in words.</param>
/// <param name="Person">How well the person repeated; null when too few answers tell.</param>
public sealed record StepDownConclusion(
    StepVerdict Verdict,
    ImmutableArray<Finding> Findings,
    BedPoint Place,
    ImmutableArray<FeltHeight> Answers,
    double TouchHeightMm,
    double DragHeightMm,
    double PaperThicknessMm,
    double OffsetMm,
    double StandardUncertaintyMm,
    ImmutableArray<BudgetLine> Contributions,
    ImmutableArray<double> TakeOffsetsMm,
    bool Provisional,
    string Conditions,
    string ZeroMeans = "touching",
    string Gauge = "",
    PersonScatter? Person = null) : StepConclusion(Verdict, Findings);

/// <summary>A person's own repeatability: standard deviation of the height at which drag is noticed, with its 95 % interval, mm.</summary>
public sealed record PersonScatter(double SigmaMm, double LowerMm, double UpperMm);
