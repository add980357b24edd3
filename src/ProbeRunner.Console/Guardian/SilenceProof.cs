using ProbeRunner.Machine.Settings;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Records.Store;

namespace ProbeRunner.Console.Guardian;

/// <summary>Whether a machine's controller was shown, with a person there, to switch its heaters off when the computer goes silent.</summary>
internal static class SilenceProof
{
    /// <summary>The step that shows it, run alone or in a script that names it: only the runs of those are read.</summary>
    public const string Step = "silence-trial";

    /// <summary>Why there is no proof, with what to do; null when there is one. The newest trial of this controller counts.</summary>
    /// <param name="store">Where runs are kept.</param>
    /// <param name="machineName">The machine's profile.</param>
    /// <param name="controller">What the controller says of itself now.</param>
    public static string? WhyMissing(RunStore store, string machineName, ControllerIdentity controller)
    {
        var trial = store.List()
            .Where(run => run.ScriptText.Contains(Step, StringComparison.Ordinal) && run.MachineName == machineName && run.Outcome is RunOutcome.Completed)
            .OrderByDescending(run => run.StartedAt)
            .Select(run => store.Read(run.RunId).Conclusion<SilenceTrialConclusion>())
            .FirstOrDefault(conclusion => conclusion is not null && IsSame(conclusion.Controller, controller));
        return trial switch
        {
            null => $"that this controller switches its heaters off when the computer goes silent has not been shown. Stay at the machine and do: proberunner run {Step} --machine {machineName}",
            { SwitchedOff: false } => "this controller was shown to keep its heaters on when the computer goes silent. It must not be heated with nobody there.",
            _ => null,
        };
    }

    private static bool IsSame(ControllerIdentity then, ControllerIdentity now) =>
        (then.Firmware, then.MachineName, then.SerialNumber) == (now.Firmware, now.MachineName, now.SerialNumber);
}
