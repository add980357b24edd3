using ProbeRunner.Machine.Guard;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Procedures.Operators;

namespace ProbeRunner.Procedures.Engine;

/// <summary>How runs end, in words.</summary>
internal static class Outcomes
{
    private const string Mains = "Switch off at the mains";

    /// <summary>The outcome that an exception means, before the retreat.</summary>
    public static RunOutcome Of(Exception failure, StepVerdict verdict) => failure switch
    {
        StopAskedException stop => new RunOutcome.Stopped($"{stop.Message} The machine was lifted and parked; resume the run to go on.", verdict),
        HaltedException => Halted(verdict, string.Empty),
        JournalFailedException => Faulted($"The record could not be written, so the run stopped: {failure.Message} Make room or repair the disk, then resume.", verdict),
        OperatorGoneException => Faulted($"Nobody answers any more: {failure.Message} Resume the run to go on.", verdict),
        MotionRefusedException refused => Faulted(refused.Message, verdict),
        InvalidOperationException or ArgumentException or NullReferenceException or IndexOutOfRangeException =>
            Faulted($"Internal error: {failure.Message} The run stopped safely; please report it.", verdict),
        _ => Faulted(failure.Message, verdict),
    };

    /// <summary>Halted by the operator.</summary>
    /// <param name="verdict">The run's judgement so far.</param>
    /// <param name="heaters">What the controller said of its heaters afterwards; empty when it was not asked yet.</param>
    public static RunOutcome.Halted Halted(StepVerdict verdict, string heaters) => new(
        $"Halted: the controller was asked to cut motors and heaters, and may be late. {Mains} if anything still moves or heats. Positions are lost; reset the controller before you resume.{(heaters.Length > 0 ? " " : string.Empty)}{heaters}",
        verdict);

    /// <summary>The outcome after the retreat: what could not be made safe turns it into a fault with an alarm.</summary>
    public static RunOutcome After(RunOutcome outcome, RetreatReport report)
    {
        if (report.HeatersConfirmedOff && report.Failures.IsEmpty)
        {
            return outcome;
        }

        string failures = string.Join(" ", report.Failures);
        string alarm = report.HeatersConfirmedOff
            ? string.Empty
            : $"{Mains} now: the controller did not confirm that the heaters are off. {failures}";
        return new RunOutcome.Faulted($"{outcome.Why} {failures}".Trim(), outcome.Verdict, alarm);
    }

    /// <summary>The word for the record.</summary>
    public static string Word(RunOutcome outcome) => outcome switch
    {
        RunOutcome.Stopped => "stop",
        RunOutcome.Halted => "halt",
        _ => "fault",
    };

    private static RunOutcome.Faulted Faulted(string why, StepVerdict verdict) => new(why, verdict, string.Empty);
}
