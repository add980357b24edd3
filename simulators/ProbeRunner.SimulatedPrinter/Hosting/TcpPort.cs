using System.Net;
using System.Net.Sockets;
using ProbeRunner.Transport.Links;

namespace ProbeRunner.SimulatedPrinter.Hosting;

/// <summary>The printer's port as a TCP port of this computer: one client at a time, a second one is turned away, a pulled cable turns all away.</summary>
internal sealed class TcpPort : IAsyncDisposable
{
    private readonly SimulatedPrinterHost _host;
    private readonly Socket _listener;
    private readonly CancellationTokenSource _ending = new();
    private volatile bool _isPulled;

    private TcpPort(SimulatedPrinterHost host, Socket listener)
    {
        (_host, _listener) = (host, listener);
        Address = FormattableString.Invariant($"tcp://127.0.0.1:{((IPEndPoint)listener.LocalEndPoint!).Port}");
        host.CablePulled += OnPulled;
        host.CablePlugged += OnPlugged;
    }

    /// <summary>The address that a client connects to.</summary>
    public string Address { get; }

    /// <summary>Begins to listen.</summary>
    /// <param name="host">The printer.</param>
    /// <param name="port">The port's number; 0 for any free one.</param>
    /// <exception cref="SocketException">The port is taken.</exception>
    public static TcpPort Open(SimulatedPrinterHost host, int port)
    {
        var listener = new Socket(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
        try
        {
            listener.Bind(new IPEndPoint(IPAddress.Loopback, port));
            listener.Listen();
        }
        catch
        {
            listener.Dispose();
            throw;
        }

        var tcp = new TcpPort(host, listener);
        _ = tcp.AcceptAsync();
        return tcp;
    }

    public async ValueTask DisposeAsync()
    {
        _host.CablePulled -= OnPulled;
        _host.CablePlugged -= OnPlugged;
        await _ending.CancelAsync();
        _listener.Dispose();
    }

    private void OnPulled() => _isPulled = true;

    private void OnPlugged() => _isPulled = false;

    private async Task AcceptAsync()
    {
        try
        {
            while (true)
            {
                var client = await _listener.AcceptAsync(_ending.Token);
                if (_isPulled || _host.IsPlugged)
                {
                    client.Dispose();
                }
                else
                {
                    _host.Plug(TcpLink.Of(client, Address));
                }
            }
        }
        catch (Exception end) when (end is OperationCanceledException or SocketException or ObjectDisposedException)
        {
            // The port was disposed.
        }
    }
}
