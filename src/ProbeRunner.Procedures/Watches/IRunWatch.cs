namespace ProbeRunner.Procedures.Watches;

/// <summary>
/// Looks at something that can go wrong while a run works: the heat, the disk, the clock. It is asked every half second of the machine's
/// clock from the run's start until the machine is safe, whether anybody is there or not.
/// </summary>
public interface IRunWatch
{
    /// <summary>Looks. Quick; never waits, never throws.</summary>
    Sight Look();
}

/// <summary>What a watch saw.</summary>
/// <param name="Stop">Why the run must stop, in sentences: what happened, what it means, what to do; null when it may go on.</param>
/// <param name="Warning">What a person should know, told once; null when there is nothing.</param>
/// <param name="Asked">Who asked, from elsewhere, that the run be stopped in order, in a sentence; null when nobody did.</param>
public readonly record struct Sight(string? Stop, string? Warning = null, string? Asked = null)
{
    /// <summary>All is well.</summary>
    public static Sight Well => default;

    /// <summary>The run must stop.</summary>
    public static Sight MustStop(string why) => new(why);
}
