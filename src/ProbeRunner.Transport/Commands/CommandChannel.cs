using System.Runtime.CompilerServices;
using ProbeRunner.Transport.Links;
using ProbeRunner.Transport.Tracing;

namespace ProbeRunner.Transport.Commands;

/// <summary>
/// The command channel over a link. Runs on whatever threads its link and callers use, or wholly inside a single-threaded
/// synchronization context over a virtual clock, when it was made and is used in that context.
/// </summary>
public sealed class CommandChannel : ICommandChannel
{
    private const int LongestCommand = 255;
    private const int RoundsToSettle = 8;

    private readonly ControllerWire _wire;
    private readonly ILineGrammar _grammar;
    private readonly ChannelOptions _options;
    private readonly TimeProvider _time;
    private readonly TurnQueue _turns = new();
    private volatile IConversation? _conversation;

    /// <summary>Begins to listen on a link; the channel owns it from now on.</summary>
    /// <param name="link">An open link.</param>
    /// <param name="grammar">How the controller words its lines.</param>
    /// <param name="time">The clock of all waits.</param>
    /// <param name="options">How the channel works; null for the usual way.</param>
    /// <param name="trace">Where lines are traced; null for a trace in memory.</param>
    /// <exception cref="ArgumentOutOfRangeException">An option is out of its range.</exception>
    public CommandChannel(
        ILink link, ILineGrammar grammar, TimeProvider time, ChannelOptions? options = null, WireTrace? trace = null)
    {
        ArgumentNullException.ThrowIfNull(link);
        ArgumentNullException.ThrowIfNull(grammar);
        ArgumentNullException.ThrowIfNull(time);
        _grammar = grammar;
        _time = time;
        _options = options ?? ChannelOptions.Default;
        _options.ThrowIfOutOfRange();
        Trace = trace ?? new WireTrace(time);
        _wire = new ControllerWire(link, grammar, time, _options.Times, Trace, Raise);
    }

    /// <inheritdoc/>
    public event Action<ChannelEvent>? Happened;

    /// <inheritdoc/>
    public int ResetCount => _wire.ResetCount;

    /// <inheritdoc/>
    public bool IsNumbered => _conversation is NumberedConversation;

    /// <inheritdoc/>
    public WireTrace Trace { get; }

    /// <inheritdoc/>
    public LinkHealth Health => _wire.Counts.Snapshot();

    /// <inheritdoc/>
    public Task BeginSessionAsync(CancellationToken cancel)
    {
        var outcome = new TaskCompletionSource<bool>(TaskCreationOptions.RunContinuationsAsynchronously);
        _ = InTurnAsync(outcome, BeginAsync, cancel);
        return outcome.Task;
    }

    /// <inheritdoc/>
    public Task<Exchange> SendAsync(Command command, CancellationToken cancel)
    {
        ThrowIfNotOneLine(command);

        // The result is handed over on another thread (or posted to the caller's context): whatever the caller then does can't hold up
        // the reading of the link.
        var outcome = new TaskCompletionSource<Exchange>(TaskCreationOptions.RunContinuationsAsynchronously);
        int resets = _wire.ResetCount;
        _ = InTurnAsync(outcome, stop => ConverseAsync(command, resets, stop), cancel);
        return outcome.Task;
    }

    /// <inheritdoc/>
    public bool Interject(Command command)
    {
        ThrowIfNotOneLine(command);
        return _wire.WriteUrgent(command.Text);
    }

    /// <inheritdoc/>
    public bool Halt()
    {
        bool taken = _wire.WriteUrgent(_grammar.HaltLine);
        _wire.DeclareHalted(null);
        return taken;
    }

    /// <inheritdoc/>
    public ValueTask DisposeAsync() => _wire.DisposeAsync();

    private static void ThrowIfNotOneLine(Command command)
    {
        ArgumentNullException.ThrowIfNull(command);
        if (command.Text.Length is 0 or > LongestCommand || command.Text.AsSpan().ContainsAnyExceptInRange(' ', '~'))
        {
            throw new ArgumentException("A command is one line of 1 to 255 printable ASCII characters.", nameof(command));
        }
    }

    private async Task InTurnAsync<T>(TaskCompletionSource<T> outcome, Func<CancellationToken, ValueTask<T>> perform, CancellationToken cancel)
    {
        T result;
        try
        {
            await _turns.EnterAsync(cancel);
            try
            {
                result = await perform(cancel);
            }
            finally
            {
                _turns.Leave();
            }
        }
        catch (OperationCanceledException cancelled) when (cancel.IsCancellationRequested)
        {
            outcome.SetCanceled(cancelled.CancellationToken);
            return;
        }
        catch (Exception failure)
        {
            outcome.SetException(failure);
            return;
        }

        outcome.SetResult(result);
    }

    private async ValueTask<bool> BeginAsync(CancellationToken cancel)
    {
        _conversation = null;
        _wire.ExpectBanners();
        _wire.ThrowIfFailed();
        _wire.BeginConversation();
        try
        {
            _conversation = await new SessionStart(_wire, _grammar, _options, _time, Raise).RunAsync(cancel);
            _wire.IsDisturbed = false;
            _wire.ExpectNoBanners();
        }
        finally
        {
            _wire.EndConversation();
        }

        return true;
    }

    [AsyncMethodBuilder(typeof(PoolingAsyncValueTaskMethodBuilder<>))]
    private async ValueTask<Exchange> ConverseAsync(Command command, int resets, CancellationToken cancel)
    {
        _wire.ThrowIfFailed();
        if (resets != _wire.ResetCount)
        {
            // It waited through a reset and a new session: it was meant for the machine as it was before.
            throw new ControllerResetException(string.Empty, command.Text);
        }

        IConversation conversation = _conversation ?? throw new InvalidOperationException("Begin a session before sending commands.");
        try
        {
            if (_wire.IsDisturbed)
            {
                await SettleAsync(conversation, cancel);
            }

            return await SendAndTimeAsync(conversation, command, cancel);
        }
        catch (ControllerResetException reset) when (reset.Pending is null)
        {
            throw new ControllerResetException(reset.Line, command.Text);
        }
        catch (OperationCanceledException)
        {
            // The answer to what was sent may still come.
            _wire.IsDisturbed = true;
            throw;
        }
    }

    [AsyncMethodBuilder(typeof(PoolingAsyncValueTaskMethodBuilder<>))]
    private async ValueTask<Exchange> SendAndTimeAsync(IConversation conversation, Command command, CancellationToken cancel)
    {
        _wire.BeginConversation();
        try
        {
            long began = _wire.Now;
            Exchange exchange = await conversation.SendAsync(command, cancel);
            if (command.Kind is CommandKind.Query or CommandKind.Setting)
            {
                _wire.Counts.AddRoundTrip(_wire.Since(began));
            }

            return exchange;
        }
        finally
        {
            _wire.EndConversation();
        }
    }

    /// <summary>Gets back in step after a disturbance: sends nothing until it is quiet, then asks a question and hears exactly its answer.</summary>
    private async ValueTask SettleAsync(IConversation conversation, CancellationToken cancel)
    {
        for (int round = 1; _wire.IsDisturbed; round++)
        {
            _wire.BeginConversation();
            try
            {
                await _wire.HearQuietAsync(cancel);
                _wire.Balance();
                _wire.IsDisturbed = false;
                await conversation.AskAsync(cancel);
            }
            catch
            {
                _wire.IsDisturbed = true;
                throw;
            }
            finally
            {
                _wire.EndConversation();
            }

            if (_wire.IsDisturbed && round == RoundsToSettle)
            {
                throw new LinkSilentException(_wire.Times.Quiet, _grammar.Question.Text, CommandKind.Query);
            }
        }
    }

    private void Raise(ChannelEvent happened)
    {
        foreach (Action<ChannelEvent> handler in Delegate.EnumerateInvocationList(Happened))
        {
            try
            {
                handler(happened);
            }
            catch (Exception failure)
            {
                // A listener's trouble is never the machine's.
                Trace.Record(WireDirection.Note, $"a listener failed: {failure.GetType().Name}");
            }
        }
    }
}
