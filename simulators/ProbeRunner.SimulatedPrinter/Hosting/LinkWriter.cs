using System.Buffers;
using ProbeRunner.SimulatedPrinter.Faults;
using ProbeRunner.Transport.Links;

namespace ProbeRunner.SimulatedPrinter.Hosting;

/// <summary>Writes what may go now to the link, one write at a time and never with the gate held.</summary>
/// <param name="gate">Guards the output and what is said here.</param>
/// <param name="output">What is to be said, and when.</param>
/// <param name="now">The time.</param>
/// <param name="lost">Called when a link turns out to be gone.</param>
/// <param name="written">Called when a write that took its time has ended.</param>
internal sealed class LinkWriter(Lock gate, FaultyOutput output, Func<TimeSpan> now, Action<ILink> lost, Action written)
{
    private readonly ArrayBufferWriter<byte> _taken = new(512);
    private bool _isWriting;

    /// <summary>Writes until nothing is left that may go now, or until a write has to wait.</summary>
    public void Flush(ILink? link)
    {
        while (link is not null && TryTake())
        {
            var write = link.WriteAsync(_taken.WrittenMemory, CancellationToken.None);
            if (!write.IsCompletedSuccessfully)
            {
                _ = FinishAsync(link, write);
                return;
            }

            lock (gate)
            {
                _isWriting = false;
            }
        }
    }

    private bool TryTake()
    {
        lock (gate)
        {
            if (_isWriting)
            {
                return false;
            }

            _taken.ResetWrittenCount();
            while (output.TryTake(now(), out var bytes))
            {
                _taken.Write(bytes);
            }

            _isWriting = _taken.WrittenCount > 0;
            return _isWriting;
        }
    }

    private async Task FinishAsync(ILink link, ValueTask write)
    {
        try
        {
            await write;
        }
        catch (Exception gone) when (gone is LinkLostException or ObjectDisposedException)
        {
            lost(link);
        }

        lock (gate)
        {
            _isWriting = false;
        }

        written();
    }
}
