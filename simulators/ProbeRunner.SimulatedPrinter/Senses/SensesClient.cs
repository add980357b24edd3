using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Text;

namespace ProbeRunner.SimulatedPrinter.Senses;

/// <summary>Asks a simulated printer in another process, over any stream. One question at a time; more wait for their turn.</summary>
/// <param name="stream">The connection; owned from now on.</param>
public sealed class SensesClient(Stream stream) : ISenses, IAsyncDisposable
{
    private const int LongestAnswer = 1024;
    private readonly SemaphoreSlim _turn = new(1, 1);
    private readonly byte[] _one = new byte[1];

    /// <summary>Connects to a senses channel.</summary>
    /// <param name="place">The path of a Unix socket, or the number of a TCP port of this computer.</param>
    /// <param name="cancel">Ends the wait.</param>
    /// <exception cref="SocketException">Nothing listens there.</exception>
    public static async Task<SensesClient> ConnectAsync(string place, CancellationToken cancel = default)
    {
        var endPoint = SensesPlace.Parse(place);
        var socket = new Socket(endPoint.AddressFamily, SocketType.Stream, endPoint is IPEndPoint ? ProtocolType.Tcp : ProtocolType.Unspecified);
        try
        {
            await socket.ConnectAsync(endPoint, cancel);
            return new SensesClient(new NetworkStream(socket, ownsSocket: true));
        }
        catch
        {
            socket.Dispose();
            throw;
        }
    }

    /// <inheritdoc/>
    /// <exception cref="IOException">The printer is gone, or its answer was too long to be one.</exception>
    public async Task<string> AskAsync(string question, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(question);
        if (question.AsSpan().ContainsAny('\r', '\n'))
        {
            throw new ArgumentException("A question is one line.", nameof(question));
        }

        await _turn.WaitAsync(cancel);
        try
        {
            await stream.WriteAsync(Encoding.ASCII.GetBytes(question + "\n"), cancel);
            return await ReadLineAsync(cancel);
        }
        finally
        {
            _turn.Release();
        }
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await stream.DisposeAsync();
        _turn.Dispose();
    }

    private async Task<string> ReadLineAsync(CancellationToken cancel)
    {
        var answer = new StringBuilder();
        while (answer.Length <= LongestAnswer)
        {
            if (await stream.ReadAsync(_one, cancel) == 0)
            {
                throw new EndOfStreamException("The simulated printer ended.");
            }

            if (_one[0] == (byte)'\n')
            {
                return answer.ToString();
            }

            answer.Append((char)_one[0]);
        }

        throw new IOException(string.Create(CultureInfo.InvariantCulture, $"The answer was longer than {LongestAnswer} characters."));
    }
}
