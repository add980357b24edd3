namespace ProbeRunner.Console.Screens.Host;

/// <summary>
/// When the screens' thread works and when it sleeps: it is woken by what happens. For a moment after input it looks often, since the
/// library tells a lone Esc from the beginning of another key by the time that passes; else it looks now and then for whatever the
/// library may have to do of itself. What starting, drawing and the ends of steps leave behind is given back (<see cref="Tidying"/>).
/// </summary>
/// <param name="time">The screens' clock.</param>
/// <param name="longestSleep">How long it sleeps at most while nothing happens.</param>
internal sealed class Pace(TimeProvider time, TimeSpan longestSleep) : IDisposable
{
    private static readonly TimeSpan Moment = TimeSpan.FromMilliseconds(300);
    private static readonly TimeSpan BetweenLooks = TimeSpan.FromMilliseconds(10);
    private readonly Tidying tidying = new(time);
    private readonly AutoResetEvent something = new(initialState: false);
    private long lastInput = time.GetTimestamp();

    /// <summary>There is something to do.</summary>
    public void Wake() => something.Set();

    /// <summary>Something came from the terminal.</summary>
    public void InputCame()
    {
        Volatile.Write(ref lastInput, time.GetTimestamp());
        something.Set();
    }

    /// <summary>Sleeps until there is something to do.</summary>
    public void Wait()
    {
        var isInMoment = time.GetElapsedTime(Volatile.Read(ref lastInput)) < Moment;
        var isWoken = something.WaitOne(isInMoment ? BetweenLooks : longestSleep);
        if (isInMoment)
        {
            tidying.NotNow();
        }
        else
        {
            tidying.Look(isQuiet: !isWoken);
        }
    }

    /// <inheritdoc />
    public void Dispose() => something.Dispose();
}
