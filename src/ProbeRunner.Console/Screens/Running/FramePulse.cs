namespace ProbeRunner.Console.Screens.Running;

/// <summary>Turns however many changes into at most <see cref="FramesPerSecond"/> frames a second, and none while nothing changes.</summary>
internal sealed class FramePulse : IDisposable
{
    /// <summary>The most frames in a second.</summary>
    public const int FramesPerSecond = 10;

    private static readonly TimeSpan Frame = TimeSpan.FromSeconds(1.0 / FramesPerSecond);
    private readonly TimeProvider time;
    private readonly ITimer timer;
    private readonly Action deliver;
    private int isAsked;
    private long lastFrame;

    /// <summary>Makes frames.</summary>
    /// <param name="time">The screens' clock.</param>
    /// <param name="deliver">Has a frame made; called on a timer's thread.</param>
    public FramePulse(TimeProvider time, Action deliver)
    {
        (this.time, this.deliver) = (time, deliver);
        timer = time.CreateTimer(_ => Deliver(), null, Timeout.InfiniteTimeSpan, Timeout.InfiniteTimeSpan);
    }

    /// <summary>Has a frame made soon, from any thread; many calls within a frame are one.</summary>
    public void Ask()
    {
        if (Interlocked.Exchange(ref isAsked, 1) != 0)
        {
            return;
        }

        try
        {
            var due = Frame - time.GetElapsedTime(Volatile.Read(ref lastFrame));
            timer.Change(due > TimeSpan.Zero ? due : TimeSpan.Zero, Timeout.InfiniteTimeSpan);
        }
        catch (ObjectDisposedException)
        {
            // The screens have ended before the run.
        }
    }

    /// <inheritdoc />
    public void Dispose() => timer.Dispose();

    private void Deliver()
    {
        Volatile.Write(ref lastFrame, time.GetTimestamp());
        Volatile.Write(ref isAsked, 0);
        deliver();
    }
}
