namespace ProbeRunner.Procedures.Operators;

public static partial class PromptIds
{
    /// <summary>Hands clear before the touches of a check.</summary>
    public const string CheckAgainHandsClear = "check-again.hands-clear";
}
