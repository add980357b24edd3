namespace ProbeRunner.Procedures.Operators;

/// <content>Questions of the trials of heaters and of the halt line.</content>
public static partial class PromptIds
{
    /// <summary>skip / try: the heaters get warm for a moment; the caution with it.</summary>
    public const string HeaterTrialBegin = "heater-trial.begin";

    /// <summary>skip / try: the halt line is tried while the nozzle goes up.</summary>
    public const string HaltTrialBegin = "halt-trial.begin";

    /// <summary>Hands clear before the nozzle goes up and is halted on the way.</summary>
    public const string HaltTrialHandsClear = "halt-trial.hands-clear";

    /// <summary>no / yes: it stopped at once, and the motors let go.</summary>
    public const string HaltTrialStopped = "halt-trial.stopped";

    /// <summary>Acknowledge: the controller was reset.</summary>
    public const string HaltTrialReset = "halt-trial.reset";

    /// <summary>Hands clear before everything is homed again.</summary>
    public const string HaltTrialHomeHandsClear = "halt-trial.home-hands-clear";
}
