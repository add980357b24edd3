namespace ProbeRunner.Transport.Commands;

/// <summary>How a command channel works.</summary>
public sealed record ChannelOptions
{
    /// <summary>The usual way: numbered if the controller can, usual waits.</summary>
    public static ChannelOptions Default { get; } = new();

    /// <summary>
    /// Whether lines are numbered and carry a checksum; yes unless said otherwise. A controller that does not know numbered lines
    /// is found out when the session begins, and is talked to plainly.
    /// </summary>
    public bool Numbered { get; init; } = true;

    /// <summary>
    /// The number of a session's first line, 3 to 1,000,000; 1000 unless said otherwise. Far from 1, so that a controller that starts
    /// anew and asks for its line 1 can't be mistaken for one that misread a line of ours.
    /// </summary>
    public int FirstLineNumber { get; init; } = 1000;

    /// <summary>How long the channel waits for what.</summary>
    public ChannelTimes Times { get; init; } = ChannelTimes.Default;

    /// <summary>How often a line is sent that the controller refuses, 1 to 20; 8 unless said otherwise.</summary>
    public int AttemptsWhenRefused { get; init; } = 8;

    /// <summary>How often a line is sent that is not answered, where repeating it is safe, 1 to 10; 3 unless said otherwise.</summary>
    public int AttemptsWhenSilent { get; init; } = 3;

    /// <summary>Checks the ranges.</summary>
    internal void ThrowIfOutOfRange()
    {
        ThrowIfNotWithin(FirstLineNumber, 3, 1_000_000, nameof(FirstLineNumber));
        ThrowIfNotWithin(AttemptsWhenRefused, 1, 20, nameof(AttemptsWhenRefused));
        ThrowIfNotWithin(AttemptsWhenSilent, 1, 10, nameof(AttemptsWhenSilent));
        ArgumentNullException.ThrowIfNull(Times);
    }

    private static void ThrowIfNotWithin(int value, int least, int most, string name)
    {
        if (value < least || value > most)
        {
            throw new ArgumentOutOfRangeException(name, value, $"Must be from {least} to {most}.");
        }
    }
}
