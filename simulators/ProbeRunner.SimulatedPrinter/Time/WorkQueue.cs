namespace ProbeRunner.SimulatedPrinter.Time;

/// <summary>The pump's queue: continuations run one after the other, on the thread that runs the body.</summary>
internal sealed class WorkQueue : SynchronizationContext
{
    private readonly Queue<(SendOrPostCallback Callback, object? State)> _queue = new();
    private readonly int _thread = Environment.CurrentManagedThreadId;
    private bool _woken;

    public int ForeignPosts { get; private set; }

    public override void Post(SendOrPostCallback d, object? state)
    {
        lock (_queue)
        {
            _queue.Enqueue((d, state));
            if (Environment.CurrentManagedThreadId != _thread)
            {
                ForeignPosts++;
                Monitor.Pulse(_queue);
            }
        }
    }

    public override void Send(SendOrPostCallback d, object? state)
    {
        if (Environment.CurrentManagedThreadId != _thread)
        {
            throw new NotSupportedException("Only the pump's own thread may send work to it and wait.");
        }

        d(state);
    }

    public override SynchronizationContext CreateCopy() => this;

    public void RunAll()
    {
        while (TryTake(out var item))
        {
            item.Callback(item.State);
        }
    }

    /// <summary>Waits in real time for work from another thread.</summary>
    /// <returns>Whether any came, or <see cref="Wake"/> was called.</returns>
    public bool WaitForForeignWork(TimeSpan realTime)
    {
        lock (_queue)
        {
            if (_queue.Count == 0 && !_woken)
            {
                Monitor.Wait(_queue, realTime);
            }

            var any = _queue.Count > 0 || _woken;
            _woken = false;
            return any;
        }
    }

    public void Wake()
    {
        lock (_queue)
        {
            _woken = true;
            Monitor.Pulse(_queue);
        }
    }

    private bool TryTake(out (SendOrPostCallback Callback, object? State) item)
    {
        lock (_queue)
        {
            return _queue.TryDequeue(out item);
        }
    }
}
