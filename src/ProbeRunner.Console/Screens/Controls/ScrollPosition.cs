namespace ProbeRunner.Console.Screens.Controls;

/// <summary>How far down a page is read; what is drawn keeps it within the page.</summary>
internal sealed class ScrollPosition
{
    /// <summary>The first row shown.</summary>
    public int Top { get; private set; }

    /// <summary>Moves it; the ends by the extreme values.</summary>
    public void Move(int rows) => Top = rows switch
    {
        int.MinValue => 0,
        int.MaxValue => int.MaxValue,
        _ => (int)Math.Clamp((long)Top + rows, 0, int.MaxValue),
    };

    /// <summary>Keeps it within a page.</summary>
    /// <param name="rows">Rows of the page.</param>
    /// <param name="shown">Rows shown at a time.</param>
    public void Keep(int rows, int shown) => Top = Math.Clamp(Top, 0, Math.Max(0, rows - shown));
}
