namespace ProbeRunner.SimulatedPrinter.Time;

/// <summary>Timers by due time, equal ones in the order they were set. Dead entries are dropped when they come up, or when they are most of the queue.</summary>
internal sealed class TimerQueue
{
    private const int SweepAbove = 4096;
    private PriorityQueue<Entry, (long DueTicks, long Sequence)> _entries = new();
    private long _sequence;
    private int _sweepAt = SweepAbove;

    public void Add(VirtualTimer timer, long dueTicks)
    {
        _entries.Enqueue(new Entry(timer, timer.Version), (dueTicks, _sequence++));
        if (_entries.Count > _sweepAt)
        {
            Sweep();
        }
    }

    public bool TryTake(out VirtualTimer? timer, out long dueTicks)
    {
        while (_entries.TryDequeue(out var entry, out var key))
        {
            if (entry.Alive)
            {
                (timer, dueTicks) = (entry.Timer, key.DueTicks);
                return true;
            }
        }

        (timer, dueTicks) = (null, 0);
        return false;
    }

    // A line's deadline is set and dropped long before it is due; without this a month-long deadline would keep every one.
    private void Sweep()
    {
        var alive = new PriorityQueue<Entry, (long, long)>(_entries.UnorderedItems.Where(item => item.Element.Alive));
        _entries = alive;
        _sweepAt = Math.Max(SweepAbove, 2 * alive.Count);
    }

    private readonly record struct Entry(VirtualTimer Timer, int Version)
    {
        public bool Alive => Timer.Version == Version;
    }
}
