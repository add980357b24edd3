namespace ProbeRunner.Console.Screens.Drawing;

/// <summary>How many colours a terminal shows.</summary>
internal enum ColourDepth
{
    /// <summary>None: bold, underlined and reversed letters only.</summary>
    Monochrome,

    /// <summary>The terminal's sixteen.</summary>
    Sixteen,

    /// <summary>True colour.</summary>
    True,
}

/// <summary>How the roles look on one kind of terminal.</summary>
/// <param name="Depth">How many colours there are.</param>
/// <param name="IsDark">Whether the ground is dark.</param>
/// <param name="IsAscii">Whether only ASCII can be shown, so that pictures choose characters that fold well.</param>
internal sealed record Palette(ColourDepth Depth, bool IsDark = true, bool IsAscii = false)
{
    /// <summary>An ink as the terminal can show it: colours of the sixteen, true colours or the terminal's own, never a role.</summary>
    public Ink Shown(Ink ink)
    {
        if (Depth == ColourDepth.Monochrome)
        {
            return new Ink(Colour.Terminal, Colour.Terminal, ink.Letters | Emphasis(ink));
        }

        return ink with { Text = Shown(ink.Text), Ground = Shown(ink.Ground) };
    }

    /// <summary>A colour as the terminal can show it.</summary>
    public Colour Shown(Colour colour) => (colour.Kind, Depth) switch
    {
        (_, ColourDepth.Monochrome) => Colour.Terminal,
        (ColourKind.Role, ColourDepth.Sixteen) => RoleColours.Sixteen((Role)colour.Value, IsDark),
        (ColourKind.Role, _) => RoleColours.True((Role)colour.Value, IsDark),
        (ColourKind.Rgb, ColourDepth.Sixteen) => RoleColours.Nearest(colour),
        (ColourKind.Unchanged, _) => Shown((Colour)Role.Ground),
        _ => colour,
    };

    /// <summary>What must stand out without colour.</summary>
    private static Letters Emphasis(Ink ink)
    {
        bool isReversed = ink.Ground == Role.Selection || ink.Ground == Role.Alarm || ink.Ground == Role.Raised;
        bool isBold = ink.Text == Role.Bad || ink.Text == Role.Accent || ink.Text == Role.Key;
        bool isUnderlined = ink.Text == Role.Warning;
        return (isReversed ? Letters.Reversed : 0) | (isBold ? Letters.Bold : 0) | (isUnderlined ? Letters.Underlined : 0);
    }
}
