using ProbeRunner.Transport.Links;

namespace ProbeRunner.Transport.Framing;

/// <summary>Hears a link's lines one by one, for whoever talks without a command channel.</summary>
/// <param name="link">The link; stays the caller's.</param>
/// <param name="time">The clock of the waits.</param>
public sealed class LineEar(ILink link, TimeProvider time)
{
    private readonly LineFramer _framer = new();
    private readonly Queue<string> _heard = new();
    private readonly byte[] _buffer = new byte[1024];

    /// <summary>The next line, raw; null when none was complete in time.</summary>
    /// <param name="within">How long to wait.</param>
    /// <exception cref="LinkLostException">The far end is gone.</exception>
    public async Task<string?> NextAsync(TimeSpan within)
    {
        if (_heard.Count == 0)
        {
            using var deadline = new CancellationTokenSource(within, time);
            try
            {
                while (_heard.Count == 0)
                {
                    int count = await link.ReadAsync(_buffer, deadline.Token);
                    var lines = new List<string>();
                    _framer.Push(_buffer.AsSpan(0, count), lines);
                    lines.ForEach(_heard.Enqueue);
                }
            }
            catch (OperationCanceledException)
            {
                return null;
            }
        }

        return _heard.Dequeue();
    }
}
