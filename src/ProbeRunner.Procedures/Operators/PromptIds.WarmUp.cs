namespace ProbeRunner.Procedures.Operators;

public static partial class PromptIds
{
    /// <summary>Acknowledge: the machine gets hot; stay with it.</summary>
    public const string WarmUpCautions = "warm-up.cautions";

    /// <summary>Hands clear before the heaters go on and the touches begin.</summary>
    public const string WarmUpHandsClear = "warm-up.hands-clear";
}
