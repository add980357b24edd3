using System.Runtime.Versioning;
using ProbeRunner.Transport.Terminals;

namespace ProbeRunner.SimulatedPrinter.Hosting;

/// <summary>
/// The printer's port as a pseudo-terminal with a path of its own. A pulled cable closes the terminal for real; plugged in again it
/// is a new one, and the path leads there.
/// </summary>
[SupportedOSPlatform("linux")]
internal sealed class PtyPort : IAsyncDisposable
{
    private readonly SimulatedPrinterHost _host;
    private readonly string _path;

    private PtyPort(SimulatedPrinterHost host, string path) => (_host, _path) = (host, path);

    /// <summary>Opens the terminal and plugs the printer in.</summary>
    /// <exception cref="IOException">There is none to be had, or the path is taken.</exception>
    public static PtyPort Open(SimulatedPrinterHost host, string path)
    {
        var port = new PtyPort(host, Path.GetFullPath(path));
        port.Plug();
        host.CablePlugged += port.Plug;
        return port;
    }

    /// <summary>The path that a client opens.</summary>
    public string Address => _path;

    public ValueTask DisposeAsync()
    {
        _host.CablePlugged -= Plug;
        _host.PullCable();
        return ValueTask.CompletedTask;
    }

    private void Plug()
    {
        if (!_host.IsPlugged)
        {
            _host.Plug(PseudoTerminal.Open(_path));
        }
    }
}
