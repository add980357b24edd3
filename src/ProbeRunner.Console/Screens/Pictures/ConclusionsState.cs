using System.Collections.Immutable;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Console.Screens.Pictures;

/// <summary>The findings of a run.</summary>
/// <param name="Findings">In any order; those that move the first layer most are shown first.</param>
/// <param name="Selected">Which of the shown ones is selected, from 0.</param>
/// <param name="IsOpen">Whether the selected one's evidence and next thing to do are shown.</param>
internal sealed record ConclusionsState(ImmutableArray<Finding> Findings, int Selected, bool IsOpen) : PictureState
{
    /// <summary>By what they do to the first layer, those without a figure last, surer ones first among equals.</summary>
    public ImmutableArray<Finding> Ranked =>
        Findings.IsDefault ? [] : [.. Findings.OrderByDescending(finding => Math.Abs(finding.EffectMm ?? -1) * (finding.EffectMm is null ? -1 : 1)).ThenByDescending(finding => finding.Confidence)];
}
