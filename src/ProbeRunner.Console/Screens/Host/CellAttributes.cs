using ProbeRunner.Console.Screens.Drawing;
using Terminal.Gui.Drawing;
using Attribute = Terminal.Gui.Drawing.Attribute;

namespace ProbeRunner.Console.Screens.Host;

/// <summary>Turns our inks, as a palette shows them, into the library's attributes.</summary>
internal sealed class CellAttributes(Palette palette)
{
    private static readonly ColorName16[] Sixteen =
    [
        ColorName16.Black, ColorName16.Red, ColorName16.Green, ColorName16.Yellow, ColorName16.Blue, ColorName16.Magenta, ColorName16.Cyan, ColorName16.Gray,
        ColorName16.DarkGray, ColorName16.BrightRed, ColorName16.BrightGreen, ColorName16.BrightYellow, ColorName16.BrightBlue, ColorName16.BrightMagenta,
        ColorName16.BrightCyan, ColorName16.White,
    ];

    private readonly Dictionary<Ink, Attribute> known = [];

    /// <summary>The attribute of an ink.</summary>
    public Attribute Of(Ink ink)
    {
        if (!known.TryGetValue(ink, out var attribute))
        {
            if (known.Count > 20_000)
            {
                known.Clear(); // a height map in true colour has many inks, a long session has many maps
            }

            var shown = palette.Shown(ink);
            attribute = new Attribute(ColourOf(shown.Text), ColourOf(shown.Ground), StyleOf(shown.Letters));
            known[ink] = attribute;
        }

        return attribute;
    }

    private static Color ColourOf(Colour colour) => colour.Kind switch
    {
        ColourKind.Rgb => new Color(colour.Channels.Red, colour.Channels.Green, colour.Channels.Blue, 255),
        ColourKind.Sixteen => new Color(Sixteen[colour.Value]),
        _ => Color.None,
    };

    private static TextStyle StyleOf(Letters letters) =>
        (letters.HasFlag(Letters.Bold) ? TextStyle.Bold : TextStyle.None)
        | (letters.HasFlag(Letters.Underlined) ? TextStyle.Underline : TextStyle.None)
        | (letters.HasFlag(Letters.Reversed) ? TextStyle.Reverse : TextStyle.None);
}
