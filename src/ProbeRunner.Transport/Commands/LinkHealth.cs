namespace ProbeRunner.Transport.Commands;

/// <summary>How a link has done since its channel was made.</summary>
/// <param name="LinesSent">Lines sent, repetitions included.</param>
/// <param name="Resends">Lines sent again because they were refused or not answered.</param>
/// <param name="Errors">Error lines received.</param>
/// <param name="Silences">Deadlines that passed without an answer.</param>
/// <param name="StrayLines">Acknowledgements and resend requests that belonged to no command.</param>
/// <param name="DiscardedLines">Received lines that were longer than the limit.</param>
/// <param name="MedianRoundTrip">Send to acknowledged, median of the last 256 queries and settings; zero before the first.</param>
public readonly record struct LinkHealth(
    long LinesSent,
    long Resends,
    long Errors,
    long Silences,
    long StrayLines,
    long DiscardedLines,
    TimeSpan MedianRoundTrip);
