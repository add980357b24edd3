using System.Collections.Immutable;
using System.Threading.Channels;
using ProbeRunner.Procedures.Events;

namespace ProbeRunner.Procedures.Engine;

/// <summary>
/// Hands events to listeners, each through a queue of its own that is read on the listener's side: no listener can block, break or
/// change a run. A listener that falls <see cref="Longest"/> events behind loses the oldest; everything is in the journal anyway.
/// </summary>
internal sealed class EventStreams(RunClock clock)
{
    /// <summary>How far a listener may fall behind.</summary>
    internal const int Longest = 65_536;

    private ImmutableArray<Channel<RunEvent>> _streams = [];
    private bool _completed;

    /// <summary>Opens a queue; it ends after the run's last event.</summary>
    public ChannelReader<RunEvent> Open()
    {
        var stream = Channel.CreateBounded<RunEvent>(
            new BoundedChannelOptions(Longest) { FullMode = BoundedChannelFullMode.DropOldest, SingleReader = true });
        ImmutableInterlocked.Update(ref _streams, (streams, added) => streams.Add(added), stream);
        if (_completed)
        {
            stream.Writer.TryComplete();
        }

        return stream.Reader;
    }

    /// <summary>Tells all listeners. Never blocks, never throws.</summary>
    public void Tell(Func<TimeSpan, RunEvent> what)
    {
        RunEvent told = what(clock.Elapsed);
        foreach (Channel<RunEvent> stream in _streams)
        {
            stream.Writer.TryWrite(told);
        }
    }

    /// <summary>Ends all queues.</summary>
    public void Complete()
    {
        _completed = true;
        foreach (Channel<RunEvent> stream in _streams)
        {
            stream.Writer.TryComplete();
        }
    }
}
