using ProbeRunner.SimulatedPrinter.Time;
using ProbeRunner.Transport.Framing;
using ProbeRunner.Transport.Links;

namespace ProbeRunner.Transport.Tests.Commands;

/// <summary>Whole lines from a link, one by one.</summary>
internal sealed class LineSource(ILink link)
{
    private readonly LineFramer _framer = new();
    private readonly Queue<string> _lines = new();
    private readonly byte[] _buffer = new byte[4096];

    public async Task<string> NextAsync(CancellationToken cancel)
    {
        while (_lines.Count == 0)
        {
            int count = await link.ReadAsync(_buffer, cancel);
            var lines = new List<string>();
            _framer.Push(_buffer.AsSpan(0, count), lines);
            lines.ForEach(_lines.Enqueue);
        }

        return _lines.Dequeue();
    }

    public async Task<string?> NextOrEndAsync()
    {
        try
        {
            return await NextAsync(CancellationToken.None);
        }
        catch (LinkLostException)
        {
            return null;
        }
    }

    public async Task ExpectSilenceAsync(TimeSpan span, VirtualTime time)
    {
        using var end = new CancellationTokenSource(span, time);
        try
        {
            Assert.Fail($"Sent although it should be silent: {await NextAsync(end.Token)}");
        }
        catch (OperationCanceledException)
        {
        }
    }
}
