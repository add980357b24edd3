namespace ProbeRunner.Procedures.Operators;

/// <content>Questions of the probe's self-check in the air.</content>
public static partial class PromptIds
{
    /// <summary>Acknowledge: a probe that is fetched from a dock was hung on by hand.</summary>
    public const string SelfCheckHangOn = "self-check.hang-on";

    /// <summary>Acknowledge: that probe was put back where the controller fetches it.</summary>
    public const string SelfCheckHangBack = "self-check.hang-back";

    /// <summary>Hands clear before the probe is extended and retracted, or looked at.</summary>
    public const string SelfCheckHandsClear = "self-check.hands-clear";

    /// <summary>no / yes: the probe went out and in each time.</summary>
    public const string SelfCheckMovedEachTime = "self-check.moved-each-time";

    /// <summary>Acknowledge: nothing moves, and the probe is being pushed (or metal held under it).</summary>
    public const string SelfCheckHold = "self-check.hold-the-probe";

    /// <summary>Acknowledge: nothing touches the probe any more.</summary>
    public const string SelfCheckLetGo = "self-check.let-go";

    /// <summary>no / yes: the pin pulled itself in when it was pushed.</summary>
    public const string SelfCheckPulledItselfIn = "self-check.pulled-itself-in";

    /// <summary>Acknowledge: one hand at the mains switch, one at the probe; the descent starts, push the probe up when it moves.</summary>
    public const string SelfCheckPush = "self-check.push-the-probe";

    /// <summary>no / yes: the descent stopped when the probe was pushed, high above the bed.</summary>
    public const string SelfCheckStoppedHigh = "self-check.stopped-high";

    /// <summary>Hands clear before the lift after the descent.</summary>
    public const string SelfCheckLiftHandsClear = "self-check.lift-hands-clear";
}
