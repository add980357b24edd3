using ProbeRunner.Transport.Links;

namespace ProbeRunner.Transport.Posix;

/// <summary>
/// One thread that moves bytes of a non-blocking descriptor: waits for input and, when a write did not fit, for room; ends at once when
/// the far end vanishes. Owns the descriptor: it is closed for real when the thread ends, with no call pending on it.
/// </summary>
internal sealed class DescriptorPump
{
    private readonly Lock _gate = new();
    private readonly int _descriptor;
    private readonly WakePipe _wake;
    private readonly Func<Exception> _whenLost;
    private readonly Thread _thread;
    private readonly TaskCompletionSource _ended = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private ReadOnlyMemory<byte> _unwritten;
    private TaskCompletionSource? _writing;
    private bool _isStopping;
    private bool _isClosed;

    /// <param name="descriptor">Open, non-blocking; closed here even when this fails.</param>
    /// <param name="name">The thread's name.</param>
    /// <param name="whenLost">What reads and writes get once the far end is gone.</param>
    /// <param name="continueOnPump">Whether a waiting reader without a context continues on this thread; it must be quick then.</param>
    public DescriptorPump(int descriptor, string name, Func<Exception> whenLost, bool continueOnPump)
    {
        if (WakePipe.Open() is not { } wake)
        {
            int error = Libc.LastError;
            _ = Libc.Close(descriptor);
            throw new IOException($"No pipe could be made for {name} (error {error}).");
        }

        _wake = wake;
        _descriptor = descriptor;
        _whenLost = whenLost;
        Incoming = new ByteQueue(continueOnPump);
        _thread = new Thread(Run) { IsBackground = true, Name = name };
        _thread.Start();
    }

    /// <summary>Bytes read.</summary>
    public ByteQueue Incoming { get; }

    /// <summary>Writes all bytes, at once when there is room.</summary>
    public ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancel)
    {
        cancel.ThrowIfCancellationRequested();
        TaskCompletionSource writing;
        lock (_gate)
        {
            if (_isClosed || _isStopping)
            {
                return ValueTask.FromException(_whenLost());
            }

            if (_writing is not null)
            {
                throw new InvalidOperationException("Two writes at once on one link.");
            }

            int taken = Writing.Some(_descriptor, bytes.Span);
            if (taken == bytes.Length)
            {
                return ValueTask.CompletedTask;
            }

            if (taken < 0)
            {
                return ValueTask.FromException(_whenLost());
            }

            _unwritten = bytes[taken..];
            _writing = writing = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        }

        Wake();
        return FinishAsync(writing, cancel);
    }

    /// <summary>Writes at once, never waits; when the device's queue is full it is thrown away first.</summary>
    public bool WriteUrgent(ReadOnlySpan<byte> bytes)
    {
        lock (_gate)
        {
            if (_isClosed || _isStopping)
            {
                return false;
            }

            int taken = Writing.Some(_descriptor, bytes);
            if (taken >= 0 && taken < bytes.Length)
            {
                _ = Libc.Control(_descriptor, Terminal.Flush, Terminal.FlushOutput);
                int more = Writing.Some(_descriptor, bytes[taken..]);
                taken = more < 0 ? more : taken + more;
            }

            return taken == bytes.Length;
        }
    }

    /// <summary>Hands the descriptor to somebody for the time of a call; it stays open meanwhile.</summary>
    /// <returns>False when it is closed already.</returns>
    public bool TryLend(Action<int> use)
    {
        lock (_gate)
        {
            if (_isClosed)
            {
                return false;
            }

            use(_descriptor);
            return true;
        }
    }

    /// <summary>Closes the descriptor; the task ends when that is done.</summary>
    public Task StopAsync()
    {
        lock (_gate)
        {
            _isStopping = true;
        }

        Wake();
        return _ended.Task;
    }

    private async ValueTask FinishAsync(TaskCompletionSource writing, CancellationToken cancel)
    {
        await using (cancel.UnsafeRegister(_ => GiveUpWriting(writing, cancel), null))
        {
            await writing.Task;
        }
    }

    private void GiveUpWriting(TaskCompletionSource writing, CancellationToken cancel)
    {
        lock (_gate)
        {
            if (_writing != writing)
            {
                return;
            }

            _writing = null;
            _unwritten = default;
        }

        writing.TrySetCanceled(cancel);
    }

    private void Run()
    {
        try
        {
            while (MoveBytes())
            {
            }
        }
        finally
        {
            Close();
        }
    }

    /// <returns>False when the far end is gone or the pump is to stop.</returns>
    private unsafe bool MoveBytes()
    {
        Libc.PollEntry* entries = stackalloc Libc.PollEntry[2];
        entries[0] = new Libc.PollEntry { Descriptor = _descriptor, Events = EventsWanted() };
        entries[1] = new Libc.PollEntry { Descriptor = _wake.Reader, Events = Libc.PollIn };
        if (Libc.Poll(entries, 2, -1) < 0)
        {
            return Libc.LastError == Errno.Interrupted;
        }

        if (entries[1].Returned != 0)
        {
            _wake.Drain();
            lock (_gate)
            {
                if (_isStopping)
                {
                    return false;
                }
            }
        }

        short returned = entries[0].Returned;
        if ((returned & Libc.PollIn) != 0 && !ReadSome())
        {
            return false;
        }

        if ((returned & Libc.PollOut) != 0 && !ContinueWriting())
        {
            return false;
        }

        return (returned & (Libc.PollError | Libc.PollHangUp)) == 0 || (returned & Libc.PollIn) != 0;
    }

    private short EventsWanted()
    {
        lock (_gate)
        {
            return _writing is null ? Libc.PollIn : (short)(Libc.PollIn | Libc.PollOut);
        }
    }

    private unsafe bool ReadSome()
    {
        byte* buffer = stackalloc byte[4096];
        nint count = Libc.Read(_descriptor, buffer, 4096);
        if (count > 0)
        {
            Incoming.Write(new ReadOnlySpan<byte>(buffer, (int)count));
            return true;
        }

        return count < 0 && Libc.LastError is Errno.TryAgain or Errno.Interrupted;
    }

    private bool ContinueWriting()
    {
        TaskCompletionSource? done = null;
        lock (_gate)
        {
            if (_writing is not null)
            {
                int taken = Writing.Some(_descriptor, _unwritten.Span);
                if (taken < 0)
                {
                    return false;
                }

                _unwritten = _unwritten[taken..];
                if (_unwritten.IsEmpty)
                {
                    done = _writing;
                    _writing = null;
                }
            }
        }

        done?.TrySetResult();
        return true;
    }

    private void Wake()
    {
        lock (_gate)
        {
            if (!_isClosed)
            {
                _wake.Wake();
            }
        }
    }

    private void Close()
    {
        TaskCompletionSource? writing;
        lock (_gate)
        {
            _isClosed = true;
            writing = _writing;
            _writing = null;
            _ = Libc.Close(_descriptor);
            _wake.Close();
        }

        writing?.TrySetException(_whenLost());
        Incoming.End(_whenLost());
        _ended.TrySetResult();
    }
}
