using System.Globalization;

namespace ProbeRunner.Console.Screens.Keys;

/// <summary>One press of a key.</summary>
/// <param name="Name">A letter or other character as it is typed, or a word: "enter", "esc", "up", "f5", "ctrl-c".</param>
internal readonly record struct Stroke(string Name)
{
    /// <summary>Enter.</summary>
    public static Stroke Enter { get; } = new("enter");

    /// <summary>Esc.</summary>
    public static Stroke Escape { get; } = new("esc");

    /// <summary>The up arrow.</summary>
    public static Stroke Up { get; } = new("up");

    /// <summary>The down arrow.</summary>
    public static Stroke Down { get; } = new("down");

    /// <summary>The left arrow.</summary>
    public static Stroke Left { get; } = new("left");

    /// <summary>The right arrow.</summary>
    public static Stroke Right { get; } = new("right");

    /// <summary>A page up.</summary>
    public static Stroke PageUp { get; } = new("pgup");

    /// <summary>A page down.</summary>
    public static Stroke PageDown { get; } = new("pgdn");

    /// <summary>To the beginning.</summary>
    public static Stroke Home { get; } = new("home");

    /// <summary>To the end.</summary>
    public static Stroke End { get; } = new("end");

    /// <summary>The tabulator.</summary>
    public static Stroke Tab { get; } = new("tab");

    /// <summary>The tabulator with shift.</summary>
    public static Stroke BackTab { get; } = new("shift-tab");

    /// <summary>Backspace.</summary>
    public static Stroke Backspace { get; } = new("backspace");

    /// <summary>Delete.</summary>
    public static Stroke Delete { get; } = new("delete");

    /// <summary>Whether it types a character.</summary>
    public bool IsText => new StringInfo(Name).LengthInTextElements == 1;

    /// <summary>How it is written on a screen.</summary>
    public string Label => Name switch
    {
        "enter" => "Enter",
        "esc" => "Esc",
        "up" => "↑",
        "down" => "↓",
        "left" => "←",
        "right" => "→",
        "pgup" => "PgUp",
        "pgdn" => "PgDn",
        "home" => "Home",
        "end" => "End",
        "tab" => "Tab",
        "shift-tab" => "Shift-Tab",
        "backspace" => "Backspace",
        "delete" => "Del",
        " " => "Space",
        ['f', .. var number] when number.Length > 0 => "F" + number,
        ['c', 't', 'r', 'l', '-', var letter] => $"Ctrl-{char.ToUpperInvariant(letter)}",
        _ => Name,
    };

    /// <summary>A character as it is typed.</summary>
    public static implicit operator Stroke(char letter) => new(letter.ToString());

    /// <summary>A function key.</summary>
    public static Stroke Function(int number) => new(string.Create(CultureInfo.InvariantCulture, $"f{number}"));

    /// <summary>A letter with the control key.</summary>
    public static Stroke Control(char letter) => new($"ctrl-{letter}");
}
