namespace ProbeRunner.Procedures.Operators;

public static partial class PromptIds
{
    /// <summary>Text: a short name for the sheet that lies on the bed.</summary>
    public const string Plate = "bed.plate";
}
