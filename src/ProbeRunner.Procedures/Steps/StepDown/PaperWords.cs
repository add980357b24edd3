using ProbeRunner.Metrology.Thresholds;

namespace ProbeRunner.Procedures.Steps.StepDown;

/// <summary>The words that answer the paper question.</summary>
internal static class PaperWords
{
    public const string Free = "free";
    public const string Drags = "drags";
    public const string Pinched = "pinched";
    public const string CallOff = "call-off";
    public const string Up = "up";
    public const string Down = "down";
    public const string Undo = "undo";

    /// <summary>What a word means to the test.</summary>
    public static PaperAnswer Meaning(string word) => word switch
    {
        Free => PaperAnswer.Free,
        Drags => PaperAnswer.Drags,
        Pinched => PaperAnswer.Pinched,
        _ => throw new ArgumentOutOfRangeException(nameof(word), "free, drags or pinched"),
    };
}
