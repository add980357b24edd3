namespace ProbeRunner.Console.Screens.Drawing;

/// <summary>How letters are set.</summary>
[Flags]
internal enum Letters
{
    /// <summary>Plainly.</summary>
    Plain = 0,

    /// <summary>Bold.</summary>
    Bold = 1,

    /// <summary>Underlined.</summary>
    Underlined = 2,

    /// <summary>Text and ground exchanged.</summary>
    Reversed = 4,
}

/// <summary>How a cell looks, apart from what stands in it.</summary>
/// <param name="Text">Colour of the character.</param>
/// <param name="Ground">Colour behind it.</param>
/// <param name="Letters">How it is set.</param>
internal readonly record struct Ink(Colour Text, Colour Ground, Letters Letters = Letters.Plain)
{
    /// <summary>A role's text on the screen's ground.</summary>
    public static implicit operator Ink(Role role) => new(role, Role.Ground);

    /// <summary>A role's text, bold, on the screen's ground.</summary>
    public static Ink Bold(Role role) => new(role, Role.Ground, Letters.Bold);

    /// <summary>A colour written over whatever ground there is.</summary>
    public static Ink Over(Colour text, Letters letters = Letters.Plain) => new(text, Colour.Unchanged, letters);

    /// <summary>What is selected.</summary>
    public static Ink Selected => new(Role.SelectionText, Role.Selection, Letters.Bold);

    /// <summary>An alarm.</summary>
    public static Ink Alarm => new(Role.AlarmText, Role.Alarm, Letters.Bold);
}

/// <summary>One cell of a screen.</summary>
/// <param name="Grapheme">What stands in it: one grapheme, never a control character; empty in the second cell of a wide one.</param>
/// <param name="Ink">How it looks.</param>
internal readonly record struct Cell(string Grapheme, Ink Ink)
{
    /// <summary>Nothing on the screen's ground.</summary>
    public static Cell Blank { get; } = new(" ", Role.Text);
}
