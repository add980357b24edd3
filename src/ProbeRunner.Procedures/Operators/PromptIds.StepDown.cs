namespace ProbeRunner.Procedures.Operators;

/// <summary>Questions of the step-down and the verification beside those of the paper itself.</summary>
public static partial class PromptIds
{
    /// <summary>default / stack / feeler: what lies between nozzle and bed, and how thick it is.</summary>
    public const string StepDownGauge = "step-down.gauge";

    /// <summary>Number: sheets in the stack that was measured.</summary>
    public const string StepDownStackCount = "step-down.stack-count";

    /// <summary>Number, mm: thickness of that stack.</summary>
    public const string StepDownStackMm = "step-down.stack-mm";

    /// <summary>Number, mm: thickness that stands on the feeler gauge.</summary>
    public const string StepDownFeelerMm = "step-down.feeler-mm";

    /// <summary>Acknowledge: bed and nozzle get hot.</summary>
    public const string StepDownCautions = "step-down.cautions";

    /// <summary>Hands clear before the machine heats and soaks.</summary>
    public const string StepDownHeatHandsClear = "step-down.heat-hands-clear";

    /// <summary>Acknowledge: the nozzle's tip was wiped.</summary>
    public const string StepDownWipe = "step-down.wipe";

    /// <summary>no / yes: the probe's tip is up, above the nozzle's.</summary>
    public const string StepDownPinUp = "step-down.pin-up";

    /// <summary>no / yes: the probe's tip is up, above the nozzle's.</summary>
    public const string VerifyPinUp = "verify.pin-up";
}
