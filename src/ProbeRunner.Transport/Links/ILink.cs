namespace ProbeRunner.Transport.Links;

/// <summary>
/// A two-way stream of bytes to a controller: a serial port, a TCP connection or a pair of in-process ends.
/// Reading and writing may run at the same time; two reads or two writes may not.
/// </summary>
public interface ILink : IAsyncDisposable
{
    /// <summary>What a person calls this link: the device path or address it was opened with.</summary>
    string Name { get; }

    /// <summary>Reads at least one byte.</summary>
    /// <param name="buffer">Where the bytes go; not empty.</param>
    /// <param name="cancel">Ends the wait; no byte is lost by it.</param>
    /// <returns>The number of bytes read, 1 or more.</returns>
    /// <exception cref="LinkLostException">The far end vanished or closed. Final: the link is never usable again.</exception>
    ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancel);

    /// <summary>Hands all bytes to the operating system, in order.</summary>
    /// <exception cref="LinkLostException">The far end vanished or closed. Final: the link is never usable again.</exception>
    ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancel);

    /// <summary>Hands a few bytes (the halt line) to the operating system at once, past a write in progress; never waits, never throws.</summary>
    /// <returns>Whether the operating system took all of them.</returns>
    bool WriteUrgent(ReadOnlySpan<byte> bytes);
}
