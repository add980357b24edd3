namespace ProbeRunner.Transport.Commands;

/// <summary>
/// How long the channel waits, in the time of its clock. No wait may be under 1 s of real time: on a clock that runs
/// f times faster use <see cref="AtLeast"/> with f seconds.
/// </summary>
public sealed record ChannelTimes
{
    /// <summary>The usual waits.</summary>
    public static ChannelTimes Default { get; } = new();

    /// <summary>For the answer to a query; 3 s unless said otherwise.</summary>
    public TimeSpan Query { get; init; } = TimeSpan.FromSeconds(3);

    /// <summary>For a setting to be taken; 5 s unless said otherwise.</summary>
    public TimeSpan Setting { get; init; } = TimeSpan.FromSeconds(5);

    /// <summary>For a motion to be queued, which may have to wait for another to end; 30 s unless said otherwise.</summary>
    public TimeSpan Motion { get; init; } = TimeSpan.FromSeconds(30);

    /// <summary>For a long motion to be done when no keep-alive was heard; 120 s unless said otherwise.</summary>
    public TimeSpan LongMotion { get; init; } = TimeSpan.FromSeconds(120);

    /// <summary>For permanent memory to be written or read; 15 s unless said otherwise.</summary>
    public TimeSpan Store { get; init; } = TimeSpan.FromSeconds(15);

    /// <summary>From a keep-alive to the next sign of life; 20 s unless said otherwise.</summary>
    public TimeSpan AfterBusy { get; init; } = TimeSpan.FromSeconds(20);

    /// <summary>Silence after which nothing belated is expected any more; 1 s unless said otherwise.</summary>
    public TimeSpan Quiet { get; init; } = TimeSpan.FromSeconds(1);

    /// <summary>
    /// How long a new session listens for a controller that opening the port may have restarted, before it asks; 2 s unless said otherwise.
    /// </summary>
    public TimeSpan Listen { get; init; } = TimeSpan.FromSeconds(2);

    /// <summary>For a controller to start, all in all; 20 s unless said otherwise.</summary>
    public TimeSpan Start { get; init; } = TimeSpan.FromSeconds(20);

    /// <summary>The same waits, none shorter than the given one.</summary>
    /// <param name="floor">The shortest wait allowed.</param>
    public ChannelTimes AtLeast(TimeSpan floor)
    {
        TimeSpan Raise(TimeSpan wait) => wait < floor ? floor : wait;
        return new ChannelTimes
        {
            Query = Raise(Query),
            Setting = Raise(Setting),
            Motion = Raise(Motion),
            LongMotion = Raise(LongMotion),
            Store = Raise(Store),
            AfterBusy = Raise(AfterBusy),
            Quiet = Raise(Quiet),
            Listen = Raise(Listen),
            Start = Raise(Start),
        };
    }

    /// <summary>
    /// The wait for a line that is sent again after silence: half the time, so that three sendings take twice the deadline in all; never
    /// less than the quiet time.
    /// </summary>
    internal TimeSpan AfterSilence(TimeSpan within) => within / 2 > Quiet ? within / 2 : Quiet;

    /// <summary>The deadline of one kind of command.</summary>
    public TimeSpan Of(CommandKind kind) => kind switch
    {
        CommandKind.Query => Query,
        CommandKind.Setting => Setting,
        CommandKind.Motion => Motion,
        CommandKind.LongMotion => LongMotion,
        CommandKind.Store => Store,
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "Not a kind of command."),
    };
}
