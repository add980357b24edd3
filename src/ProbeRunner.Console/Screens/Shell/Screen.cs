using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Keys;

namespace ProbeRunner.Console.Screens.Shell;

/// <summary>One place of the program: what is shown there and which keys work. It knows no terminal.</summary>
internal abstract class Screen
{
    /// <summary>Its name in the top line.</summary>
    public abstract string Title { get; }

    /// <summary>What a person should know here, in a few sentences; the help shows it above the keys.</summary>
    public abstract string Explanation { get; }

    /// <summary>The keys that work here now.</summary>
    public abstract IEnumerable<KeyEntry> Keys { get; }

    /// <summary>Whether it stands before the screen below, which stays in sight.</summary>
    public virtual bool IsDialog => false;

    /// <summary>Whether characters are typed into a field here, so that no letter is a key.</summary>
    public virtual bool TakesText => false;

    /// <summary>Why it can't be left now; null when it can.</summary>
    public virtual string? WhyStay => null;

    /// <summary>Draws it.</summary>
    /// <param name="canvas">The room between top line and footer.</param>
    /// <param name="palette">How roles look.</param>
    public abstract void Draw(CellCanvas canvas, Palette palette);

    /// <summary>A stroke for the field, where there is one.</summary>
    /// <returns>Whether the field took it.</returns>
    public virtual bool Type(Stroke stroke) => false;

    /// <summary>Text pasted into the field.</summary>
    public virtual void Paste(string text)
    {
    }

    /// <summary>A click into the room.</summary>
    public virtual void Click(int column, int row)
    {
    }

    /// <summary>The mouse wheel: rows down, negative up.</summary>
    public virtual void Wheel(int rows)
    {
    }

    /// <summary>It is left for good.</summary>
    public virtual void Leave()
    {
    }
}
