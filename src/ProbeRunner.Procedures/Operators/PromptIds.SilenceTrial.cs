namespace ProbeRunner.Procedures.Operators;

/// <content>Questions of the silence trial.</content>
public static partial class PromptIds
{
    /// <summary>Acknowledge: both heaters go on, low; stay at the machine, a hand near the mains switch.</summary>
    public const string SilenceTrialReady = "silence-trial.ready";
}
