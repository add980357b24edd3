using ProbeRunner.Console.Screens.Keys;
using Terminal.Gui.Drivers;
using Terminal.Gui.Input;

namespace ProbeRunner.Console.Screens.Host;

/// <summary>Turns the library's keys into ours.</summary>
internal static class Strokes
{
    /// <summary>The stroke of a key; null for one that means nothing here.</summary>
    public static Stroke? Of(Key key)
    {
        var plain = key.KeyCode & ~(KeyCode.ShiftMask | KeyCode.CtrlMask | KeyCode.AltMask);
        if (plain is >= KeyCode.F1 and <= KeyCode.F12)
        {
            return Stroke.Function((int)(plain - KeyCode.F1) + 1);
        }

        if (Named(plain, key.IsShift) is { } named)
        {
            return named;
        }

        if (key.IsAlt)
        {
            return null;
        }

        if (key.IsCtrl)
        {
            return plain is > KeyCode.Space and < (KeyCode)0x7F ? Stroke.Control(char.ToLowerInvariant((char)plain)) : null;
        }

        return key.TryGetPrintableRune(out var rune) ? new Stroke(rune.ToString()) : null;
    }

    private static Stroke? Named(KeyCode code, bool isShifted) => code switch
    {
        KeyCode.Enter => Stroke.Enter,
        KeyCode.Esc => Stroke.Escape,
        KeyCode.CursorUp => Stroke.Up,
        KeyCode.CursorDown => Stroke.Down,
        KeyCode.CursorLeft => Stroke.Left,
        KeyCode.CursorRight => Stroke.Right,
        KeyCode.PageUp => Stroke.PageUp,
        KeyCode.PageDown => Stroke.PageDown,
        KeyCode.Home => Stroke.Home,
        KeyCode.End => Stroke.End,
        KeyCode.Tab => isShifted ? Stroke.BackTab : Stroke.Tab,
        KeyCode.Backspace => Stroke.Backspace,
        KeyCode.Delete => Stroke.Delete,
        _ => null,
    };
}
