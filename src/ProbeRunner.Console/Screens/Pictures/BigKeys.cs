using System.Collections.Immutable;
using ProbeRunner.Console.Screens.Drawing;

namespace ProbeRunner.Console.Screens.Pictures;

/// <summary>A key to press with what it says, big enough for eyes that are on a machine.</summary>
/// <param name="Key">What is on the key: "f", "Enter".</param>
/// <param name="Word">What it answers: "free".</param>
/// <param name="Meaning">What that means: "moves freely".</param>
internal sealed record BigKey(string Key, string Word, string Meaning);

/// <summary>A row of big keys.</summary>
internal static class BigKeys
{
    /// <summary>Rows wanted: three of boxes, or one where there is no room.</summary>
    public static int RowsFor(Rect area) => area.Rows >= 5 ? 4 : 1;

    /// <summary>Draws the keys side by side, all of the same width.</summary>
    public static void Draw(CellCanvas canvas, Rect area, ImmutableArray<BigKey> keys)
    {
        if (keys.IsDefaultOrEmpty || area.IsEmpty)
        {
            return;
        }

        int wide = Math.Min(26, area.Columns / keys.Length);
        for (int index = 0; index < keys.Length && wide > 2; index++)
        {
            var box = new Rect(area.Left + (index * wide), area.Top, wide - 1, area.Rows);
            if (area.Rows < 4)
            {
                int after = canvas.Write(box.Left, box.Top, CellText.Fit($"[{keys[index].Key}]", box.Columns), Ink.Bold(Role.Key));
                canvas.Write(after + 1, box.Top, CellText.Fit(keys[index].Word, box.Right - after - 1), Role.Text);
                continue;
            }

            CellCanvas part = canvas.Part(box);
            Frames.Box(part, part.Area, string.Empty, Role.Frame, Role.Key);
            int end = part.Write(2, 1, CellText.Fit(keys[index].Key, part.Columns - 4), Ink.Bold(Role.Key));
            part.Write(end + 1, 1, CellText.Fit(keys[index].Word, part.Columns - end - 2), Ink.Bold(Role.Text));
            part.Write(2, 2, CellText.Fit(keys[index].Meaning, part.Columns - 3), Role.Quiet);
        }
    }
}
