using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Keys;
using ProbeRunner.Console.Screens.Pictures;
using ProbeRunner.Console.Screens.Shell;

namespace ProbeRunner.Console.Screens.After;

/// <summary>Two maps of a bed and their difference.</summary>
internal sealed class CompareScreen(CompareState state, Action other) : Screen
{
    /// <inheritdoc />
    public override string Title => "Compare";

    /// <inheritdoc />
    public override string Explanation =>
        "Two captures of the same bed, and the later less the earlier. Each homing sets its own zero, so a shift that is the same everywhere says nothing about the bed; "
        + "a difference in shape does: a screw that moved, a plate that was changed, another temperature.";

    /// <inheritdoc />
    public override IEnumerable<KeyEntry> Keys => [KeyEntry.Of("an earlier one", "Compares with the next earlier map.", other, Stroke.Left, 'e')];

    /// <inheritdoc />
    public override void Draw(CellCanvas canvas, Palette palette) => Picture.Draw(canvas, canvas.Area.Inset(1, 0), state, palette);
}
