namespace ProbeRunner.Transport.Links;

/// <summary>
/// One end of an in-process pair of links: what one end writes the other reads, in order, without delay.
/// Closing either end is a pulled cable: the other reads what was written before, then gets <see cref="LinkLostException"/>.
/// Waiting reads continue in the synchronization context that they began in, so that one thread over virtual time drives both ends.
/// </summary>
public sealed class DuplexLink : ILink
{
    private readonly ByteQueue _incoming;
    private readonly ByteQueue _outgoing;

    private DuplexLink(string name, ByteQueue incoming, ByteQueue outgoing)
    {
        Name = name;
        _incoming = incoming;
        _outgoing = outgoing;
    }

    /// <inheritdoc/>
    public string Name { get; }

    /// <summary>Makes two ends that are connected to each other.</summary>
    /// <param name="name">What a person calls the link; both ends carry it.</param>
    public static (DuplexLink Host, DuplexLink Controller) CreatePair(string name)
    {
        var toController = new ByteQueue();
        var toHost = new ByteQueue();
        return (new DuplexLink(name, toHost, toController), new DuplexLink(name, toController, toHost));
    }

    /// <inheritdoc/>
    public ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancel) => _incoming.ReadAsync(buffer, cancel);

    /// <inheritdoc/>
    public ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancel)
    {
        cancel.ThrowIfCancellationRequested();
        return _outgoing.Write(bytes.Span) ? ValueTask.CompletedTask : ValueTask.FromException(new LinkLostException(Name));
    }

    /// <inheritdoc/>
    public bool WriteUrgent(ReadOnlySpan<byte> bytes) => _outgoing.Write(bytes);

    /// <summary>Pulls the cable: neither end can write any more, and both ends' reads end once they are drained.</summary>
    public void Close()
    {
        _outgoing.End(new LinkLostException(Name));
        _incoming.End(new LinkLostException(Name));
    }

    /// <summary>Closes this end, which the other end notices.</summary>
    public ValueTask DisposeAsync()
    {
        Close();
        return ValueTask.CompletedTask;
    }
}
