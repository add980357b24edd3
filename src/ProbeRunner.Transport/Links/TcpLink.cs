using System.Net.Sockets;
using ProbeRunner.Transport.Inheritance;

namespace ProbeRunner.Transport.Links;

/// <summary>A serial bridge on the network.</summary>
public sealed class TcpLink : ILink, IInheritable
{
    private readonly Socket _socket;
    private readonly PortClaim? _claim;

    private TcpLink(Socket socket, string name, PortClaim? claim)
    {
        _socket = socket;
        _claim = claim;
        Name = name;
    }

    /// <inheritdoc/>
    public string Name { get; }

    /// <summary>Connects to a bridge. Some bridges serve many at once, so a second console on this computer is kept off by a claim, as off a device.</summary>
    /// <param name="address">Where it is.</param>
    /// <param name="options">How the link is opened.</param>
    /// <param name="cancel">Ends the attempt.</param>
    /// <exception cref="PortOpenException">No connection, or another console has it; nothing was sent.</exception>
    public static async ValueTask<TcpLink> ConnectAsync(LinkAddress.Tcp address, LinkOptions options, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(address);
        ArgumentNullException.ThrowIfNull(options);
        PortClaim claim = PortClaim.OfAddress(address.Text, options.ClaimFolder);
        var socket = new Socket(SocketType.Stream, ProtocolType.Tcp) { NoDelay = true };
        try
        {
            await socket.ConnectAsync(address.Host, address.Port, cancel);
            return new TcpLink(socket, address.Text, claim);
        }
        catch (Exception failure)
        {
            socket.Dispose();
            claim.Dispose();
            throw failure is SocketException refused ? Explain(address, refused) : failure;
        }
    }

    /// <summary>Makes a link of a connection that was accepted.</summary>
    /// <param name="socket">The connection; the link owns it from now on.</param>
    /// <param name="name">What a person calls it.</param>
    public static TcpLink Of(Socket socket, string name)
    {
        ArgumentNullException.ThrowIfNull(socket);
        socket.NoDelay = true;
        return new TcpLink(socket, name, claim: null);
    }

    /// <inheritdoc/>
    public async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancel)
    {
        try
        {
            int count = await _socket.ReceiveAsync(buffer, SocketFlags.None, cancel);
            return count > 0 ? count : throw new LinkLostException(Name);
        }
        catch (Exception failure) when (failure is SocketException or ObjectDisposedException)
        {
            throw new LinkLostException(Name, failure);
        }
    }

    /// <inheritdoc/>
    public async ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancel)
    {
        try
        {
            while (!bytes.IsEmpty)
            {
                bytes = bytes[await _socket.SendAsync(bytes, SocketFlags.None, cancel)..];
            }
        }
        catch (Exception failure) when (failure is SocketException or ObjectDisposedException)
        {
            throw new LinkLostException(Name, failure);
        }
    }

    /// <inheritdoc/>
    public bool WriteUrgent(ReadOnlySpan<byte> bytes)
    {
        try
        {
            _socket.Blocking = false;
            return _socket.Send(bytes, SocketFlags.None, out SocketError error) == bytes.Length && error == SocketError.Success;
        }
        catch (Exception failure) when (failure is SocketException or ObjectDisposedException)
        {
            return false;
        }
    }

    /// <inheritdoc/>
    public bool TryLend(Action<int> use)
    {
        ArgumentNullException.ThrowIfNull(use);
        bool isHeld = false;
        try
        {
            _socket.SafeHandle.DangerousAddRef(ref isHeld);
            use((int)_socket.SafeHandle.DangerousGetHandle());
            return true;
        }
        catch (ObjectDisposedException)
        {
            return false;
        }
        finally
        {
            if (isHeld)
            {
                _socket.SafeHandle.DangerousRelease();
            }
        }
    }

    /// <inheritdoc/>
    public void NoteHeir(int process)
    {
        // The connection is not the heir's alone: a bridge that serves one at a time turns others away itself, one that serves many needs no waiting.
    }

    /// <inheritdoc/>
    public ValueTask DisposeAsync()
    {
        _socket.Dispose();
        _claim?.Dispose();
        return ValueTask.CompletedTask;
    }

    private static PortOpenException Explain(LinkAddress.Tcp address, SocketException refused) => refused.SocketErrorCode switch
    {
        SocketError.HostNotFound or SocketError.NoData => new PortOpenException(
            address.Text, PortProblem.NotThere, $"There is no host {address.Host}. Check the name and the network.", null, refused),
        _ => new PortOpenException(
            address.Text,
            PortProblem.Failed,
            $"{address.Text} does not answer. Check that the bridge is switched on and listens there.",
            null,
            refused),
    };
}
