using ProbeRunner.Machine.Printers;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Events;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Procedures.Scripts;
using ProbeRunner.Procedures.Steps;

namespace ProbeRunner.Procedures.Engine;

/// <summary>Runs the steps of a script in order and keeps what they concluded.</summary>
internal sealed class StepSequence(RunScript script, IPrinter printer, Replay replay, Recorder recorder, EventStreams events, RunHeader header)
{
    private readonly List<(Step Step, StepConclusion Conclusion)> _concluded = [];
    private readonly HashSet<string> _told = [];
    private readonly GantryWatch _gantry = new(printer, events);
    private Step? _closedBy;

    /// <summary>The run's judgement so far.</summary>
    public StepVerdict Verdict => RunVerdict.Of(_concluded, script.Steps.Length);

    /// <summary>How the run went, in a sentence.</summary>
    public string Summary => _closedBy is null
        ? "All steps were done; the machine is parked, heaters off."
        : $"{_closedBy.Title} did not come out fit, so nothing was written or stored; the machine is parked, heaters off.";

    /// <summary>Runs all steps.</summary>
    public async Task RunAsync(Workbench bench, ProgressMeter progress)
    {
        for (int index = 0; index < script.Steps.Length; index++)
        {
            Step step = script.Steps[index];
            progress.BeginStep(index);
            if (_closedBy is not null && !step.RunsWhenNotFit)
            {
                continue;
            }

            StepConclusion? recorded = replay.EndOf(index);
            if (recorded is not null)
            {
                int recalled = index;
                events.Tell(at => new StepRecalled(at, step.Name, recalled, recorded));
            }

            StepConclusion conclusion = recorded ?? await RunAsync(bench, step, index);
            _gantry.Follow(conclusion, earlierSession: recorded is not null);
            _concluded.Add((step, conclusion));
            if (step.IsGate && conclusion.Verdict.State != VerdictWord.Fit)
            {
                _closedBy ??= step;
            }
        }

        progress.End();
    }

    private async Task<StepConclusion> RunAsync(Workbench bench, Step step, int index)
    {
        if (!replay.HasStarted(index))
        {
            recorder.Note(EntryKind.StepStarted, index, new StepStartedPayload(step.Name, step.Title, script.Steps.Length));
        }

        events.Tell(at => new StepStarted(at, step.Name, step.Title, index, script.Steps.Length));
        _gantry.Before(step);
        bench.BeginStep(index, step);
        var context = new StepContext(bench, events, step, index, printer.Profile, header, script.Plate, printer, [.. _concluded]);
        StepConclusion conclusion = await step.RunAsync(context);
        if (bench.IsReplaying)
        {
            throw new ResumeRefusedException(
                $"The record of this run holds more facts for {step.Name} than this program asks for. Nothing has moved. Resume it with the program version that began it, or start a new run.");
        }

        recorder.StepEnded(index, conclusion);
        events.Tell(at => new VerdictReached(at, step.Name, conclusion.Verdict));
        foreach (Finding finding in conclusion.Findings.Where(finding => _told.Add(finding.Id)))
        {
            events.Tell(at => new FindingReached(at, finding));
        }

        events.Tell(at => new StepEnded(at, step.Name, index, conclusion));
        return conclusion;
    }
}
