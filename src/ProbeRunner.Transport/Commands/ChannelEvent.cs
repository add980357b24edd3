using ProbeRunner.Transport.Links;

namespace ProbeRunner.Transport.Commands;

/// <summary>Something that happened on the channel besides the exchanges. Texts are raw: show them through <see cref="Framing.WireText.Printable"/>.</summary>
public abstract record ChannelEvent
{
    private ChannelEvent()
    {
    }

    /// <summary>The controller started anew, or asked for a line that only one that started anew asks for.</summary>
    /// <param name="Count">The channel's <see cref="ICommandChannel.ResetCount"/> now.</param>
    /// <param name="Line">The line that showed it.</param>
    public sealed record ControllerReset(int Count, string Line) : ChannelEvent;

    /// <summary>The controller has stopped for good.</summary>
    /// <param name="Line">The line that said so.</param>
    public sealed record Halted(string Line) : ChannelEvent;

    /// <summary>A line while no command was under way, or an acknowledgement that belongs to no command.</summary>
    /// <param name="Line">The line.</param>
    public sealed record UnsolicitedLine(string Line) : ChannelEvent;

    /// <summary>A temperature report.</summary>
    /// <param name="Line">The line.</param>
    public sealed record TemperatureReported(string Line) : ChannelEvent;

    /// <summary>A long command is under way.</summary>
    /// <param name="Line">The line that said so.</param>
    public sealed record Busy(string Line) : ChannelEvent;

    /// <summary>A line was sent again.</summary>
    /// <param name="Text">The command.</param>
    /// <param name="Attempt">2 for the first repetition.</param>
    public sealed record Resent(string Text, int Attempt) : ChannelEvent;

    /// <summary>A received line was longer than the limit and was thrown away.</summary>
    /// <param name="Bytes">Its length.</param>
    public sealed record LineDiscarded(long Bytes) : ChannelEvent;

    /// <summary>The far end vanished.</summary>
    /// <param name="Reason">What is known about it.</param>
    public sealed record LinkLost(LinkLostException Reason) : ChannelEvent;
}
