using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Console.Screens.Pictures.Charts;

/// <summary>A verdict in words, with the sign and the role that go with it.</summary>
internal static class VerdictWords
{
    /// <summary>"fit", "NOT FIT" or "undecided".</summary>
    public static string Of(VerdictWord word) => word switch
    {
        VerdictWord.Fit => "fit",
        VerdictWord.NotFit => "NOT FIT",
        _ => "undecided",
    };

    /// <summary>A sign that says the same without colour.</summary>
    public static string Sign(VerdictWord word) => word switch
    {
        VerdictWord.Fit => "✓",
        VerdictWord.NotFit => "✗",
        _ => "?",
    };

    /// <summary>Its role.</summary>
    public static Role RoleOf(VerdictWord word) => word switch
    {
        VerdictWord.Fit => Role.Good,
        VerdictWord.NotFit => Role.Bad,
        _ => Role.Warning,
    };
}
