using ProbeRunner.Machine.Printers;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Events;
using ProbeRunner.Procedures.Steps;

namespace ProbeRunner.Procedures.Engine;

/// <summary>Warns when the motors let go after the gantry was levelled: its two ends may have come apart, and what follows takes that for the bed.</summary>
internal sealed class GantryWatch(IPrinter printer, EventStreams events)
{
    /// <summary>No count of releases is this: an earlier session levelled, and what happened since is not known.</summary>
    private const int Unknown = -1;

    private int? _levelledAt;

    /// <summary>A step has concluded.</summary>
    /// <param name="conclusion">What.</param>
    /// <param name="earlierSession">Whether it was only taken from the record.</param>
    public void Follow(StepConclusion conclusion, bool earlierSession)
    {
        if (conclusion is GantryLevelConclusion { Verdict.State: VerdictWord.Fit })
        {
            _levelledAt = earlierSession ? Unknown : printer.Now.MotorReleases;
        }
    }

    /// <summary>A step begins.</summary>
    public void Before(Step step)
    {
        if (!step.Wants.HasFlag(Milestones.GantryLevel) || _levelledAt is not { } levelled || levelled == printer.Now.MotorReleases)
        {
            return;
        }

        _levelledAt = null;
        events.Tell(at => new Warned(
            at, step.Name, "The motors let go since the gantry was levelled, so its ends may stand unequally high, and this step would take that for the bed's tilt. Stop, level the gantry again, and repeat what was measured since."));
    }
}
