using ProbeRunner.Procedures.Watches;

namespace ProbeRunner.Console.Watches;

/// <summary>Tells when the computer's clock was set or the computer slept. No order and no deadline goes by the wall clock; its times do.</summary>
/// <param name="time">The wall clock.</param>
internal sealed class ClockWatch(TimeProvider time) : IRunWatch
{
    private const double JumpSeconds = 5;
    private (DateTimeOffset Wall, long Stamp)? before;

    /// <inheritdoc />
    public Sight Look()
    {
        var wall = time.GetUtcNow();
        var stamp = time.GetTimestamp();
        var jump = before is { } then ? (wall - then.Wall - time.GetElapsedTime(then.Stamp, stamp)).TotalSeconds : 0;
        before = (wall, stamp);
        return Math.Abs(jump) < JumpSeconds
            ? Sight.Well
            : new Sight(null, FormattableString.Invariant($"The computer's clock jumped by {jump:+0;-0} s at {wall:u}, or it slept. The run goes on; only the times of day in its record are affected."));
    }
}
