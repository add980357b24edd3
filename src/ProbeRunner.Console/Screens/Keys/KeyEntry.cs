using System.Collections.Immutable;

namespace ProbeRunner.Console.Screens.Keys;

/// <summary>What some keys do at one place. Footer, help and the command list all read the same entries.</summary>
/// <param name="Strokes">The keys; the first ones are shown.</param>
/// <param name="Label">What they do, in a word or two.</param>
/// <param name="Meaning">What they do, in a sentence.</param>
/// <param name="Act">Does it; told which of the keys it was.</param>
internal sealed record KeyEntry(ImmutableArray<Stroke> Strokes, string Label, string Meaning, Action<Stroke> Act)
{
    /// <summary>Why it can't be done now; null when it can.</summary>
    public string? WhyNot { get; init; }

    /// <summary>Whether the footer shows it; help and the command list show all.</summary>
    public bool InFooter { get; init; } = true;

    /// <summary>How many of the keys are shown; the others are for those who know them.</summary>
    public int Shown { get; init; } = 1;

    /// <summary>Whether it can be chosen in the command list: moving about is not.</summary>
    public bool IsCommand { get; init; } = true;

    /// <summary>The keys as they are shown.</summary>
    public string KeysShown => string.Concat(Strokes.Take(Shown).Select((stroke, index) => (index > 0 && stroke.Label.Length > 1 ? " " : "") + stroke.Label));

    /// <summary>One key, or several that do the same.</summary>
    public static KeyEntry Of(string label, string meaning, Action act, params ReadOnlySpan<Stroke> strokes) =>
        new([.. strokes], label, meaning, _ => act());

    /// <summary>Moving up and down, by arrows or by k and j, by pages, to the ends.</summary>
    /// <param name="move">Told how many rows; the whole way is <see cref="int.MinValue"/> or <see cref="int.MaxValue"/>.</param>
    public static KeyEntry UpDown(string label, string meaning, Action<int> move) => new(
        [Stroke.Up, Stroke.Down, 'k', 'j', Stroke.PageUp, Stroke.PageDown, Stroke.Home, Stroke.End],
        label,
        meaning,
        stroke => move(stroke.Name switch
        {
            "up" or "k" => -1,
            "down" or "j" => 1,
            "pgup" => -10,
            "pgdn" => 10,
            "home" => int.MinValue,
            _ => int.MaxValue,
        }))
    {
        Shown = 2,
        IsCommand = false,
    };

    /// <summary>Moving left and right, by arrows or by h and l.</summary>
    public static KeyEntry LeftRight(string label, string meaning, Action<int> move) => new(
        [Stroke.Left, Stroke.Right, 'h', 'l'], label, meaning, stroke => move(stroke.Name is "left" or "h" ? -1 : 1))
    {
        Shown = 2,
        IsCommand = false,
    };
}
