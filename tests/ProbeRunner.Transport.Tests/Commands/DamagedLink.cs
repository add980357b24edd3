using ProbeRunner.Transport.Links;

namespace ProbeRunner.Transport.Tests.Commands;

/// <summary>A link that damages what is written to it: the write's ordinal and its bytes.</summary>
internal sealed class DamagedLink(ILink link, Action<int, byte[]> damage) : ILink
{
    private int _written;

    public string Name => link.Name;

    public ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancel) => link.ReadAsync(buffer, cancel);

    public ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancel)
    {
        byte[] sent = bytes.ToArray();
        damage(_written++, sent);
        return link.WriteAsync(sent, cancel);
    }

    public bool WriteUrgent(ReadOnlySpan<byte> bytes) => link.WriteUrgent(bytes);

    public ValueTask DisposeAsync() => link.DisposeAsync();
}
