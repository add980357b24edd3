using System.Net;
using System.Net.Sockets;
using System.Text;

namespace ProbeRunner.SimulatedPrinter.Senses;

/// <summary>Answers questions to the person over a Unix socket or a loopback TCP port; any number of askers, a line each.</summary>
internal sealed class SensesServer : IAsyncDisposable
{
    private const int LongestQuestion = 1024;
    private readonly ISenses _senses;
    private readonly Socket _listener;
    private readonly string? _path;
    private readonly CancellationTokenSource _ending = new();
    private readonly TaskCompletionSource _quit = new(TaskCreationOptions.RunContinuationsAsynchronously);

    private SensesServer(ISenses senses, Socket listener, string? path)
    {
        (_senses, _listener, _path) = (senses, listener, path);
        Place = SensesPlace.Describe(listener.LocalEndPoint!);
    }

    /// <summary>Where it listens: a path or a port's number.</summary>
    public string Place { get; }

    /// <summary>Ends when somebody asks to <c>quit</c>.</summary>
    public Task QuitAsked => _quit.Task;

    /// <summary>Begins to listen.</summary>
    /// <exception cref="SocketException">The place is taken or cannot be had.</exception>
    public static SensesServer Start(ISenses senses, string place)
    {
        var endPoint = SensesPlace.Parse(place);
        var path = endPoint is IPEndPoint ? null : place;
        var listener = new Socket(endPoint.AddressFamily, SocketType.Stream, path is null ? ProtocolType.Tcp : ProtocolType.Unspecified);
        try
        {
            listener.Bind(endPoint);
            listener.Listen();
        }
        catch
        {
            listener.Dispose();
            throw;
        }

        var server = new SensesServer(senses, listener, path);
        _ = server.AcceptAsync();
        return server;
    }

    public async ValueTask DisposeAsync()
    {
        await _ending.CancelAsync();
        _listener.Dispose();
        if (_path is not null)
        {
            File.Delete(_path);
        }
    }

    private async Task AcceptAsync()
    {
        try
        {
            while (true)
            {
                _ = ServeAsync(await _listener.AcceptAsync(_ending.Token));
            }
        }
        catch (Exception end) when (end is OperationCanceledException or SocketException or ObjectDisposedException)
        {
            // The server was disposed.
        }
    }

    private async Task ServeAsync(Socket socket)
    {
        try
        {
            await using var stream = new NetworkStream(socket, ownsSocket: true);
            using var reader = new StreamReader(stream, Encoding.ASCII);
            while (await reader.ReadLineAsync(_ending.Token) is { Length: <= LongestQuestion } question)
            {
                var quits = question.Trim() == "quit";
                var answer = quits ? "ok" : await _senses.AskAsync(question, _ending.Token);
                await stream.WriteAsync(Encoding.ASCII.GetBytes(answer + "\n"), _ending.Token);
                if (quits)
                {
                    _quit.TrySetResult();
                }
            }
        }
        catch (Exception end) when (end is OperationCanceledException or IOException or ObjectDisposedException)
        {
            // The asker went, or the server was disposed.
        }
    }
}
