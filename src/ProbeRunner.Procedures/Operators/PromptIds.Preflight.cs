namespace ProbeRunner.Procedures.Operators;

/// <content>Questions of the preflight.</content>
public static partial class PromptIds
{
    /// <summary>Acknowledge: burns, pinching, mains, never leave it heated alone.</summary>
    public const string Cautions = "preflight.cautions";

    /// <summary>no / yes: nozzle and bed clean.</summary>
    public const string BedClean = "preflight.bed-clean";

    /// <summary>no / yes: probe and its bracket tight.</summary>
    public const string ProbeTight = "preflight.probe-tight";

    /// <summary>no / yes: wiring clear of fans, belts and the nozzle.</summary>
    public const string WiringClear = "preflight.wiring-clear";

    /// <summary>no / yes: nothing on the bed but the plate; clips where the profile says.</summary>
    public const string BedClear = "preflight.bed-clear";

    /// <summary>no / yes: the bed level by eye, and firm.</summary>
    public const string BedLevelByHand = "preflight.bed-level-by-hand";

    /// <summary>no / yes: the mains switch in reach, the motor supply on.</summary>
    public const string MainsInReach = "preflight.mains-in-reach";

    /// <summary>no / yes: the machine stands at the end where a switch is that reads triggered; its name is in <see cref="Prompt.About"/>.</summary>
    public const string PreflightSwitchPressed = "preflight.switch-pressed";

    /// <summary>stop / go-on: a contradiction between profile and controller was named.</summary>
    public const string Contradiction = "preflight.contradiction";
}
