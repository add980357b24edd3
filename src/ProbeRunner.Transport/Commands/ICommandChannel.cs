using ProbeRunner.Transport.Links;
using ProbeRunner.Transport.Tracing;

namespace ProbeRunner.Transport.Commands;

/// <summary>
/// The conversation with a controller: a command goes out, its replies and its acknowledgement come back. One command is under way at
/// a time; more wait in the order they came. Every wait is bounded.
/// </summary>
public interface ICommandChannel : IAsyncDisposable
{
    /// <summary>
    /// How often the controller was seen to start anew, or was taken to have done so, since the channel was made; the start that opening
    /// the port may cause is not counted.
    /// </summary>
    int ResetCount { get; }

    /// <summary>Whether lines carry numbers and checksums. Without them a damaged line can be acted on, which a person should be told.</summary>
    bool IsNumbered { get; }

    /// <summary>Everything sent and received of late.</summary>
    WireTrace Trace { get; }

    /// <summary>Counts of what went well and what did not, now.</summary>
    LinkHealth Health { get; }

    /// <summary>
    /// What happens besides the exchanges. Handlers are called on whatever thread or context the line arrived in; they must be quick.
    /// An exception from one is swallowed and noted in the trace.
    /// </summary>
    event Action<ChannelEvent>? Happened;

    /// <summary>
    /// Begins a session: waits until a controller that is starting has started, sets the line number, asks a question and gets its answer.
    /// Needed once after opening, and again after every reset: until then every <see cref="SendAsync"/> fails, so that nothing that
    /// was meant for the machine as it was before reaches it.
    /// </summary>
    /// <exception cref="LinkSilentException">No answer within the time for starting.</exception>
    /// <exception cref="LineRefusedException">The controller refuses numbered lines and plain ones.</exception>
    /// <exception cref="LinkLostException">The far end vanished.</exception>
    Task BeginSessionAsync(CancellationToken cancel);

    /// <summary>Sends a command and waits for its acknowledgement.</summary>
    /// <param name="command">The command.</param>
    /// <param name="cancel">
    /// Ends the wait, not the command: what was sent may still be carried out. The next command first gets the channel back in step.
    /// </param>
    /// <exception cref="ArgumentException">The text is not one line of printable ASCII. Nothing was sent.</exception>
    /// <exception cref="LinkLostException">The far end vanished; final.</exception>
    /// <exception cref="LinkSilentException">
    /// The deadline passed, three times where repeating is safe. A motion may or may not have been carried out: ask for the position.
    /// </exception>
    /// <exception cref="ControllerResetException">The controller started anew while the command was under way, or since the session began.</exception>
    /// <exception cref="ControllerHaltedException">The controller was halted, or halted itself.</exception>
    /// <exception cref="LineRefusedException">The controller refused the line eight times.</exception>
    /// <exception cref="CommandUnknownException">The controller has no such command; it did nothing.</exception>
    /// <exception cref="CommandUncertainException">A command that must not be repeated may or may not have been carried out.</exception>
    /// <exception cref="InvalidOperationException">No session was begun.</exception>
    Task<Exchange> SendAsync(Command command, CancellationToken cancel);

    /// <summary>
    /// Hands a command to the operating system at once, unnumbered, past every queue and whatever is under way; never waits, never throws.
    /// For heaters off on the way out: nobody learns here whether it arrived, so read back what it should have done. A line being written
    /// at that moment is cut short.
    /// </summary>
    /// <returns>Whether the operating system took the line.</returns>
    bool Interject(Command command);

    /// <summary>
    /// Hands the halt line to the operating system at once, past every queue and whatever is under way; never waits, never throws.
    /// From then on every command fails until the controller has been reset and a new session begun.
    /// </summary>
    /// <returns>Whether the operating system took the line. A controller that is busy may still see it late, or never.</returns>
    bool Halt();
}
