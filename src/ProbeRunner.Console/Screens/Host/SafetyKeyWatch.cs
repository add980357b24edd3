using ProbeRunner.Console.Screens.Shell;

namespace ProbeRunner.Console.Screens.Host;

/// <summary>
/// Sees the keys that stop and halt in the raw characters of the terminal, on the thread that reads them: they reach the machine however
/// busy the screens are. Halt is F9 (<c>ESC [ 20 ~</c>, with or without modifiers), Ctrl-\ (<c>FS</c>, or <c>ESC [ 92 ; 5 u</c> where keys
/// are told in full), or Ctrl-C for the second time within three seconds; stop is F7 (<c>ESC [ 18 ~</c>) or Ctrl-C (<c>ETX</c>,
/// <c>ESC [ 99 ; 5 u</c>). The screens get the same keys afterwards and say what was done.
/// </summary>
/// <param name="time">The screens' clock.</param>
/// <param name="reins">The reins of the machine now; null while there is none. Its stop and halt never wait and never throw.</param>
internal sealed class SafetyKeyWatch(TimeProvider time, Func<IReins?> reins)
{
    /// <summary>A second Ctrl-C within this time halts.</summary>
    public static readonly TimeSpan HaltWindow = TimeSpan.FromSeconds(3);

    private const char Escape = '\u001b';
    private const char FileSeparator = '\u001c';
    private const char EndOfText = '\u0003';
    private const int LongestSequence = 32;
    private string sequence = string.Empty;
    private long? firstControlC;

    /// <summary>Takes the next character.</summary>
    public void Take(char character)
    {
        switch (character)
        {
            case FileSeparator:
                sequence = string.Empty;
                reins()?.Halt();
                break;
            case EndOfText:
                sequence = string.Empty;
                ControlC();
                break;
            case Escape:
                sequence = "\u001b";
                break;
            default:
                if (sequence.Length > 0)
                {
                    sequence += character;
                    if (sequence.Length == 2 ? character != '[' : character is >= '@' and <= '~' || sequence.Length > LongestSequence)
                    {
                        Judge();
                    }
                }

                break;
        }
    }

    private void Judge()
    {
        var whole = sequence;
        sequence = string.Empty;
        if (!whole.StartsWith("\u001b[", StringComparison.Ordinal))
        {
            return;
        }

        var numbers = whole[2..^1].Split(';');
        var isWithControl = numbers.Length > 1 && numbers[1].Split(':')[0] == "5";
        switch (whole[^1], numbers[0].Split(':')[0])
        {
            case ('~', "20"):
            case ('u', "92") when isWithControl:
                reins()?.Halt();
                break;
            case ('~', "18"):
                reins()?.Stop();
                break;
            case ('u', "99") when isWithControl:
                ControlC();
                break;
        }
    }

    private void ControlC()
    {
        var isAgain = firstControlC is { } first && time.GetElapsedTime(first) < HaltWindow;
        firstControlC = isAgain ? null : time.GetTimestamp();
        _ = isAgain ? reins()?.Halt() : reins()?.Stop();
    }
}
