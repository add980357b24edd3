namespace ProbeRunner.Procedures.Operators;

public static partial class PromptIds
{
    /// <summary>Hands clear before touches in several manners.</summary>
    public const string TouchTuningHandsClear = "touch-tuning.hands-clear";
}
