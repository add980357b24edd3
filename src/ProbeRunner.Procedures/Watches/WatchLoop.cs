using System.Collections.Immutable;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Events;

namespace ProbeRunner.Procedures.Watches;

/// <summary>
/// Asks the watches in turn until the run has ended, and stops the run when one says so. When a stop is not obeyed, because the program
/// itself is stuck, it asks them no longer: whoever outside waits for a sign of life (the guardian) then takes over.
/// </summary>
internal sealed class WatchLoop(ImmutableArray<IRunWatch> watches, RunControl control, EventStreams events, TimeProvider time, TimeSpan shortestWait)
{
    /// <summary>How often the watches are asked.</summary>
    internal static readonly TimeSpan Period = TimeSpan.FromMilliseconds(500);

    /// <summary>How long a stop may wait for the motion in hand: its deadline with every retry.</summary>
    private static readonly TimeSpan StopLimit = TimeSpan.FromMinutes(6);

    private readonly HashSet<string> _told = [];
    private volatile bool _isLeaving;

    /// <summary>Watches from now on, until the run has ended.</summary>
    public async Task RunAsync(CancellationToken ended)
    {
        if (watches.IsEmpty)
        {
            return;
        }

        long? stopAsked = null;
        TimeSpan limit = StopLimit > shortestWait ? StopLimit : shortestWait;
        while (!ended.IsCancellationRequested && !(stopAsked is { } since && !_isLeaving && time.GetElapsedTime(since) > limit))
        {
            foreach (IRunWatch watch in watches)
            {
                Take(watch.Look());
            }

            stopAsked ??= control.Phase == RunPhase.StopAsked ? time.GetTimestamp() : null;
            await WaitAsync(ended);
        }
    }

    /// <summary>The machine is being made safe: each action of that has a deadline of its own.</summary>
    public void Leaving() => _isLeaving = true;

    private async Task WaitAsync(CancellationToken ended)
    {
        try
        {
            await Task.Delay(Period, time, ended);
        }
        catch (OperationCanceledException)
        {
            // The run has ended.
        }
    }

    private void Take(Sight sight)
    {
        if (sight.Warning is { } warning && _told.Add(warning))
        {
            events.Tell(at => new Warned(at, string.Empty, warning));
        }

        if (sight.Asked is { } asked)
        {
            control.Stop(asked);
        }

        if (sight.Stop is { } why)
        {
            control.Fail(why);
        }
    }
}
