using System.Collections.Immutable;
using ProbeRunner.Machine.Touches;

namespace ProbeRunner.Procedures.Conclusions;

/// <summary>What a capture says beside its map: of the touches, of what moved meanwhile, of the shape, and of the mesh that the bed needs.</summary>
/// <param name="Touches">All touches, the reference point's included.</param>
/// <param name="OutlierCount">Touches that others of the same place contradict; not counted.</param>
/// <param name="Outliers">The first of them.</param>
/// <param name="TouchSigmaMm">Standard deviation of a touch, pooled over the places touched more than once; null when none was.</param>
/// <param name="Duration">From the first touch to the last.</param>
/// <param name="Drift">How much higher readings were than at the beginning, over the capture; empty when nothing can be said.</param>
/// <param name="DriftProbability">Probability that something drifted.</param>
/// <param name="Datums">The datum of each epoch against the first one's.</param>
/// <param name="Shape">Terms of the shape, the tilt first.</param>
/// <param name="Mesh">What mesh the bed needs; null when no map could be made.</param>
/// <param name="ExpectedRmsMm">Root mean square of the map's standard uncertainty.</param>
/// <param name="Goal">What a guided capture was to reach, and did; null for a grid.</param>
public sealed record CaptureDetails(
    int Touches,
    int OutlierCount,
    ImmutableArray<Reading> Outliers,
    double? TouchSigmaMm,
    TimeSpan Duration,
    ImmutableArray<DriftPoint> Drift,
    double DriftProbability,
    ImmutableArray<DatumStep> Datums,
    ImmutableArray<ShapeLine> Shape,
    MeshNeed? Mesh,
    double ExpectedRmsMm,
    CaptureGoal? Goal);

/// <summary>How much higher readings were at a time than at the capture's beginning.</summary>
public readonly record struct DriftPoint(TimeSpan Since, double HeightMm, double StandardUncertaintyMm);

/// <summary>By how much an epoch's readings are higher than the first epoch's would be.</summary>
public readonly record struct DatumStep(int Epoch, double OffsetMm, double StandardUncertaintyMm);

/// <summary>One term of the bed's shape, mm over the captured area.</summary>
/// <param name="Name">In words: "tilt left to right", "hollow along X".</param>
/// <param name="SizeMm">Its size.</param>
/// <param name="StandardErrorMm">Its standard error.</param>
public sealed record ShapeLine(string Name, double SizeMm, double StandardErrorMm);

/// <summary>What correction mesh the bed needs.</summary>
/// <param name="ToleranceRmsMm">What a mesh may leave.</param>
/// <param name="SmallestColumns">Of the smallest mesh that leaves no more; 0 when none up to 15 x 15 does.</param>
/// <param name="SmallestRows">Likewise.</param>
/// <param name="OwnColumns">Of the machine's mesh.</param>
/// <param name="OwnRows">Likewise.</param>
/// <param name="OwnFittedRmsMm">What the machine's mesh leaves when its nodes are fitted to the map.</param>
/// <param name="OwnSampledRmsMm">What it leaves when its nodes are the map's heights there, as a controller would probe it.</param>
public sealed record MeshNeed(
    double ToleranceRmsMm, int SmallestColumns, int SmallestRows, int OwnColumns, int OwnRows, double OwnFittedRmsMm, double OwnSampledRmsMm);

/// <summary>The goal of a guided capture.</summary>
/// <param name="TargetRmsMm">Root mean square error of the map that was wanted.</param>
/// <param name="Met">Whether the stopping rule held before touches or time ran out.</param>
/// <param name="FoundRmsMm">The map's error as the last touches found it; null when there were too few.</param>
/// <param name="BumpWidthMm">Full width at half height of the bump that could hide best; null when it can't be said.</param>
/// <param name="MissedBumpMm">Bumps of that width lower than this could have been missed.</param>
public sealed record CaptureGoal(double TargetRmsMm, bool Met, double? FoundRmsMm, double? BumpWidthMm, double? MissedBumpMm);
