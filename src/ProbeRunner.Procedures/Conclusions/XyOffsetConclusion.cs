using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Settings;

namespace ProbeRunner.Procedures.Conclusions;

/// <summary>Where the probe sits seen from the nozzle, and what it can reach from there.</summary>
/// <param name="Method">"keep", "ruler" or "mark".</param>
/// <param name="Before">The controller's offset as found.</param>
/// <param name="After">What the controller says it has now; Z is untouched.</param>
/// <param name="Drawing">Bed, nozzle and probe, line by line, in plain characters.</param>
/// <param name="ProbeReach">The rectangle that the probe's tip can touch, clips left aside.</param>
public sealed record XyOffsetConclusion(
    StepVerdict Verdict,
    ImmutableArray<Finding> Findings,
    string Method,
    ProbeOffset Before,
    ProbeOffset After,
    ImmutableArray<string> Drawing,
    BedRectangle ProbeReach) : StepConclusion(Verdict, Findings);
