using System.Net.Sockets;
using ProbeRunner.Transport.Inheritance;

namespace ProbeRunner.Transport.Links;

/// <summary>A serial bridge on the network.</summary>
public sealed class TcpLink : ILink, IInheritable
{
    private readonly Socket _socket;

    private TcpLink(Socket socket, string name)
    {
        _socket = socket;
        Name = name;
    }

    /// <inheritdoc/>
    public string Name { get; }

    /// <summary>Connects to a bridge.</summary>
    /// <exception cref="PortOpenException">No connection; nothing was sent.</exception>
    public static async ValueTask<TcpLink> ConnectAsync(LinkAddress.Tcp address, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(address);
        var socket = new Socket(SocketType.Stream, ProtocolType.Tcp) { NoDelay = true };
        try
        {
            await socket.ConnectAsync(address.Host, address.Port, cancel);
            return new TcpLink(socket, address.Text);
        }
        catch (Exception failure)
        {
            socket.Dispose();
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
        return new TcpLink(socket, name);
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
        // Nobody else is kept off a network connection, so nobody has to be told to wait.
    }

    /// <inheritdoc/>
    public ValueTask DisposeAsync()
    {
        _socket.Dispose();
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
