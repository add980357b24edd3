using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;

namespace ProbeRunner.Procedures.Conclusions;

/// <summary>How the distance from nozzle to trigger changes along the gantry.</summary>
/// <param name="Axes">Along X, and along Y where the gantry moves there; those that were finished.</param>
/// <param name="ToleranceMm">The change of a first layer from the bed's middle to its side that is let pass.</param>
/// <param name="Conditions">Temperatures, in words.</param>
public sealed record LeanConclusion(
    StepVerdict Verdict, ImmutableArray<Finding> Findings, ImmutableArray<LeanAlongAxis> Axes, double ToleranceMm, string Conditions)
    : StepConclusion(Verdict, Findings);

/// <summary>The lean along one axis.</summary>
/// <param name="Axis">"X" or "Y".</param>
/// <param name="Visits">Each place each time, in order.</param>
/// <param name="SlopeMmPerMm">Growth of the nozzle's height above the bed at the trigger for each mm along the axis.</param>
/// <param name="SlopeUncertainty">Its standard uncertainty, mm per mm.</param>
/// <param name="DegreesOfFreedom">Of that uncertainty.</param>
/// <param name="LowerMmPerMm">Lower end of the slope's 95 % interval.</param>
/// <param name="UpperMmPerMm">Upper end.</param>
/// <param name="OriginMm">Where on the axis the machine homes, and the stored offset is right.</param>
/// <param name="TriggerAtOriginMm">The nozzle's height above the bed at the trigger there, by the fitted line, paper's thickness included.</param>
/// <param name="LengthMm">The bed's size along the axis.</param>
public sealed record LeanAlongAxis(
    string Axis,
    ImmutableArray<LeanVisit> Visits,
    double SlopeMmPerMm,
    double SlopeUncertainty,
    double DegreesOfFreedom,
    double LowerMmPerMm,
    double UpperMmPerMm,
    double OriginMm,
    double TriggerAtOriginMm,
    double LengthMm)
{
    /// <summary>What a first layer's gap gains at the bed's far side (right, back) when a mesh of the probe's readings is followed, mm; negative is nearer.</summary>
    public double AtFarSideMm => SlopeMmPerMm * (LengthMm - OriginMm);

    /// <summary>The same at the near side (left, front), mm.</summary>
    public double AtNearSideMm => -SlopeMmPerMm * OriginMm;

    /// <summary>Lower end of the 95 % interval of the change from the bed's middle to its far side, mm.</summary>
    public double LowerMm => LowerMmPerMm * LengthMm / 2;

    /// <summary>Upper end, mm.</summary>
    public double UpperMm => UpperMmPerMm * LengthMm / 2;

    /// <summary>Whether the interval leaves out 0.</summary>
    public bool IsSeen => LowerMmPerMm > 0 || UpperMmPerMm < 0;
}

/// <summary>A place touched by the probe and felt for with paper, in one datum epoch.</summary>
/// <param name="Place">The bed point.</param>
/// <param name="Pass">Which pass, from 1.</param>
/// <param name="TouchMm">Mean trigger height.</param>
/// <param name="DragMm">Where the paper began to drag.</param>
/// <param name="StandardErrorMm">Of the drag height, as the test of that place gives it.</param>
public readonly record struct LeanVisit(BedPoint Place, int Pass, double TouchMm, double DragMm, double StandardErrorMm)
{
    /// <summary>The nozzle's height at the trigger above where the paper drags, mm.</summary>
    public double TouchOverDragMm => TouchMm - DragMm;
}
