using System.Threading.Tasks.Sources;

namespace ProbeRunner.Transport.Links;

/// <summary>
/// Bytes on their way from one writer to one reader. Bytes written before the end are read before it is reported.
/// A waiting reader continues in the synchronization context that it waited in; without one, on the thread pool or,
/// when <c>continueOnWriter</c> is set, on the writer's thread.
/// </summary>
internal sealed class ByteQueue(bool continueOnWriter = false) : IValueTaskSource<int>
{
    private readonly Lock _gate = new();
    private ManualResetValueTaskSourceCore<int> _arrival = new() { RunContinuationsAsynchronously = !continueOnWriter };
    private CancellationTokenRegistration _cancelRegistration;
    private byte[] _bytes = new byte[1024];
    private int _start;
    private int _count;
    private Memory<byte> _destination;
    private bool _readerWaits;
    private Exception? _end;

    /// <summary>Bytes that nobody has read yet.</summary>
    public int Count
    {
        get
        {
            lock (_gate)
            {
                return _count;
            }
        }
    }

    /// <summary>Appends bytes.</summary>
    /// <returns>False when the queue has ended; nothing was appended then.</returns>
    public bool Write(ReadOnlySpan<byte> bytes)
    {
        if (bytes.IsEmpty)
        {
            return true;
        }

        int delivered = 0;
        lock (_gate)
        {
            if (_end is not null)
            {
                return false;
            }

            if (_readerWaits)
            {
                delivered = Math.Min(bytes.Length, _destination.Length);
                bytes[..delivered].CopyTo(_destination.Span);
                _readerWaits = false;
            }

            Append(bytes[delivered..]);
        }

        if (delivered > 0)
        {
            _arrival.SetResult(delivered);
        }

        return true;
    }

    /// <summary>Ends the queue: what is in it can still be read, then readers get the reason. The first reason stays.</summary>
    public void End(Exception reason)
    {
        lock (_gate)
        {
            if (_end is not null)
            {
                return;
            }

            _end = reason;
            if (!_readerWaits)
            {
                return;
            }

            _readerWaits = false;
        }

        _arrival.SetException(reason);
    }

    /// <summary>Reads at least one byte; one reader at a time.</summary>
    public ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancel)
    {
        ArgumentOutOfRangeException.ThrowIfZero(buffer.Length);
        cancel.ThrowIfCancellationRequested();
        lock (_gate)
        {
            if (_readerWaits)
            {
                throw new InvalidOperationException("Two reads at once on one link.");
            }

            if (_count > 0)
            {
                return ValueTask.FromResult(Take(buffer.Span));
            }

            if (_end is not null)
            {
                return ValueTask.FromException<int>(_end);
            }

            _arrival.Reset();
            _destination = buffer;
            _readerWaits = true;
        }

        var pending = new ValueTask<int>(this, _arrival.Version);
        _cancelRegistration = cancel.UnsafeRegister(static (queue, token) => ((ByteQueue)queue!).Cancel(token), this);
        return pending;
    }

    int IValueTaskSource<int>.GetResult(short token)
    {
        // Waits for a cancellation under way, so that a late one can never end the next read.
        _cancelRegistration.Dispose();
        return _arrival.GetResult(token);
    }

    ValueTaskSourceStatus IValueTaskSource<int>.GetStatus(short token) => _arrival.GetStatus(token);

    void IValueTaskSource<int>.OnCompleted(Action<object?> continuation, object? state, short token, ValueTaskSourceOnCompletedFlags flags)
        => _arrival.OnCompleted(continuation, state, token, flags);

    private void Cancel(CancellationToken token)
    {
        lock (_gate)
        {
            if (!_readerWaits)
            {
                return;
            }

            _readerWaits = false;
        }

        _arrival.SetException(new OperationCanceledException(token));
    }

    private void Append(ReadOnlySpan<byte> bytes)
    {
        if (_start + _count + bytes.Length > _bytes.Length)
        {
            byte[] roomy = _count + bytes.Length <= _bytes.Length ? _bytes : new byte[Math.Max(_bytes.Length * 2, _count + bytes.Length)];
            _bytes.AsSpan(_start, _count).CopyTo(roomy);
            _bytes = roomy;
            _start = 0;
        }

        bytes.CopyTo(_bytes.AsSpan(_start + _count));
        _count += bytes.Length;
    }

    private int Take(Span<byte> destination)
    {
        int taken = Math.Min(_count, destination.Length);
        _bytes.AsSpan(_start, taken).CopyTo(destination);
        _count -= taken;
        _start = _count == 0 ? 0 : _start + taken;
        return taken;
    }
}
