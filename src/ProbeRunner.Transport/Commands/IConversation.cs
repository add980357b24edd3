namespace ProbeRunner.Transport.Commands;

/// <summary>How commands are put through: with numbers and checksums, or plainly.</summary>
internal interface IConversation
{
    /// <summary>Sends a command and hears it out; the wire is in step when this begins.</summary>
    ValueTask<Exchange> SendAsync(Command command, CancellationToken cancel);

    /// <summary>Asks a question, after quiet, and hears exactly its answer; throws when that can't be had.</summary>
    ValueTask AskAsync(CancellationToken cancel);
}
