namespace ProbeRunner.Console.Screens.Host;

/// <summary>
/// Sees the halt keys in the raw characters of the terminal, on the thread that reads them, before the screens have had a chance to be
/// busy: F9 (<c>ESC [ 20 ~</c>, with or without modifiers) and Ctrl-\ (<c>FS</c>, or <c>ESC [ 92 ; 5 u</c> where keys are told in full).
/// </summary>
/// <param name="halt">Called at once for each; never waits.</param>
internal sealed class HaltKeyWatch(Action halt)
{
    private const char Escape = '\u001b';
    private const char FileSeparator = '\u001c';
    private const int LongestSequence = 32;
    private string sequence = string.Empty;

    /// <summary>Takes the next character.</summary>
    public void Take(char character)
    {
        if (character == FileSeparator)
        {
            sequence = string.Empty;
            halt();
        }
        else if (character == Escape)
        {
            sequence = "\u001b";
        }
        else if (sequence.Length > 0)
        {
            sequence += character;
            if (sequence.Length == 2 ? character != '[' : character is >= '@' and <= '~' || sequence.Length > LongestSequence)
            {
                Judge();
            }
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
        var isHaltKey = (whole[^1], numbers[0]) is ('~', "20");
        var isControlBackslash = whole[^1] == 'u' && numbers[0].Split(':')[0] == "92" && numbers.Length > 1 && numbers[1].Split(':')[0] == "5";
        if (isHaltKey || isControlBackslash)
        {
            halt();
        }
    }
}
