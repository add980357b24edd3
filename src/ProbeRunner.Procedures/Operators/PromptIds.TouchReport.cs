namespace ProbeRunner.Procedures.Operators;

/// <content>Questions of the check of touch reports.</content>
public static partial class PromptIds
{
    /// <summary>Hands clear before the touches.</summary>
    public const string TouchReportHandsClear = "touch-report-check.hands-clear";

    /// <summary>Hands clear before Z is homed with another offset and, after a touch, with the old one again.</summary>
    public const string TouchReportHomeHandsClear = "touch-report-check.home-hands-clear";
}
