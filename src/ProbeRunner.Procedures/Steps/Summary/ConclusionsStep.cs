using System.Collections.Immutable;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;

namespace ProbeRunner.Procedures.Steps.Summary;

/// <summary>Ranks what all steps before found and judges the whole.</summary>
internal sealed class ConclusionsStep : Step
{
    public override string Name => "conclusions";

    public override string Title => "Conclusions";

    public override string Purpose => "Many numbers are no answer. This says what matters most and what to do next.";

    public override string WhatGoodLooksLike => "A verdict of fit and no finding that needs work.";

    public override bool RunsWhenNotFit => true;

    /// <summary>No keys.</summary>
    public static Step Read(TomlSection section) => new ConclusionsStep();

    internal override Task<StepConclusion> RunAsync(StepContext context)
    {
        ImmutableArray<Finding> ranked =
        [
            .. context.Earlier
                .SelectMany(pair => pair.Conclusion.Findings.Select(finding => (Finding: finding, pair.Conclusion.Verdict.State)))
                .OrderByDescending(found => found.State == VerdictWord.NotFit)
                .ThenByDescending(found => (found.Finding.EffectMm ?? 0) * found.Finding.Confidence)
                .Select(found => found.Finding)
                .DistinctBy(finding => finding.Id),
        ];
        return Task.FromResult<StepConclusion>(new PlainConclusion(RunVerdict.Of(context.Earlier), ranked));
    }
}
