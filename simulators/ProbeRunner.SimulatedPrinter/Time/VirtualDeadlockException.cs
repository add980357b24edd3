namespace ProbeRunner.SimulatedPrinter.Time;

/// <summary>A body on virtual time waits for something that can never happen.</summary>
/// <param name="elapsed">Virtual time at which it stood still.</param>
/// <param name="why">What was found.</param>
public sealed class VirtualDeadlockException(TimeSpan elapsed, string why) : InvalidOperationException(
    $"Deadlock at {elapsed} of virtual time: the body has not ended, but {why}. "
    + "Either it awaits something that never completes, or part of it left the pump (ConfigureAwait(false), Task.Run).")
{
    /// <summary>Virtual time at which it stood still.</summary>
    public TimeSpan Elapsed { get; } = elapsed;
}
