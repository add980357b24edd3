namespace ProbeRunner.Transport.Commands;

/// <summary>Counts how often a line was sent, and ends that when the bound is reached.</summary>
internal sealed class Attempts(Command command, ChannelOptions options, ControllerWire wire, Action<ChannelEvent> raise)
{
    private readonly long _began = wire.Now;
    private int _sent = 1;
    private int _refusals;
    private int _silences;

    /// <summary>Whether the line went out more than once.</summary>
    public bool IsRepeated => _sent > 1;

    /// <summary>Whether the last sending was not answered at all.</summary>
    public bool IsSilent => _silences > 0;

    /// <summary>A sending was refused, or answered in a way that can't be believed.</summary>
    /// <param name="error">The controller's words for it.</param>
    /// <exception cref="LineRefusedException">It was the last one allowed.</exception>
    public void CountRefusal(string? error)
    {
        _silences = 0;
        if (++_refusals >= options.AttemptsWhenRefused)
        {
            wire.IsDisturbed = true;
            throw new LineRefusedException(command.Text, _sent, error);
        }
    }

    /// <summary>A sending was not answered, nor was one before it since the last refusal, which is a sign of life.</summary>
    /// <exception cref="LinkSilentException">It was the last one allowed.</exception>
    public void CountSilence()
    {
        Interlocked.Increment(ref wire.Counts.Silences);
        if (++_silences >= options.AttemptsWhenSilent)
        {
            wire.IsDisturbed = true;
            throw new LinkSilentException(wire.Since(_began), command.Text, command.Kind);
        }
    }

    /// <summary>Tells that the line goes out again.</summary>
    public void Announce()
    {
        _sent++;
        Interlocked.Increment(ref wire.Counts.Resends);
        raise(new ChannelEvent.Resent(command.Text, _sent));
    }
}
