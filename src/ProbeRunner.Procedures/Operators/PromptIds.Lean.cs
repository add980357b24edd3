namespace ProbeRunner.Procedures.Operators;

/// <summary>Questions of the step that looks for a lean along the gantry.</summary>
public static partial class PromptIds
{
    /// <summary>Hands clear before Z is homed for a place.</summary>
    public const string LeanHomeHandsClear = "lean.home-hands-clear";

    /// <summary>Hands clear before the place is touched.</summary>
    public const string LeanTouchHandsClear = "lean.touch-hands-clear";

    /// <summary>Hands clear before the nozzle comes down towards the paper's place.</summary>
    public const string LeanApproachHandsClear = "lean.approach-hands-clear";

    /// <summary>Acknowledge: the probe is retracted, the paper lies under the nozzle.</summary>
    public const string LeanPaperIn = "lean.paper-in";

    /// <summary>free / drags / pinched / call-off: what the paper does at this height.</summary>
    public const string LeanPaper = "lean.paper";

    /// <summary>Hands clear before the nozzle lifts off the paper.</summary>
    public const string LeanLiftHandsClear = "lean.lift-hands-clear";
}
