using Polly;
using Polly.Retry;

namespace ProbeRunner.Transport.Commands;

/// <summary>
/// Puts commands through without numbers. Only queries are sent again after silence, each time after getting back in step;
/// everything else fails, and whoever sent it asks for the machine's state.
/// </summary>
internal sealed class PlainConversation : IConversation
{
    private readonly ControllerWire _wire;
    private readonly ILineGrammar _grammar;
    private readonly Action<ChannelEvent> _raise;
    private readonly ResiliencePipeline<Exchange> _askAgain;

    /// <summary>How long the controller may still be occupied by a command that was given up.</summary>
    private TimeSpan _occupied;

    public PlainConversation(
        ControllerWire wire, ILineGrammar grammar, ChannelOptions options, TimeProvider time, Action<ChannelEvent> raise)
    {
        _wire = wire;
        _grammar = grammar;
        _raise = raise;
        var builder = new ResiliencePipelineBuilder<Exchange> { TimeProvider = time };
        if (options.AttemptsWhenSilent > 1)
        {
            builder.AddRetry(new RetryStrategyOptions<Exchange>
            {
                MaxRetryAttempts = options.AttemptsWhenSilent - 1,
                Delay = TimeSpan.Zero,
                ShouldHandle = static outcome => ValueTask.FromResult(outcome.Outcome.Exception is LinkSilentException or LineRefusedException),
            });
        }

        _askAgain = builder.Build();
    }

    /// <inheritdoc/>
    public async ValueTask<Exchange> SendAsync(Command command, CancellationToken cancel)
    {
        if (command.Kind == CommandKind.Query)
        {
            return await AskUntilAnsweredAsync(command, cancel);
        }

        Exchange exchange = await SendOnceAsync(command, _wire.Times.Of(command.Kind), cancel);
        if (command.Kind == CommandKind.LongMotion && command.Answer is null)
        {
            // The acknowledgement could be a doubled one of an earlier command; the answer to a later question can't come early.
            await SendOnceAsync(_grammar.Question, _wire.Times.LongMotion, cancel);
        }

        return exchange;
    }

    /// <inheritdoc/>
    public async ValueTask AskAsync(CancellationToken cancel)
    {
        TimeSpan within = _occupied > _wire.Times.Query ? _occupied : _wire.Times.Query;
        await SendOnceAsync(_grammar.Question, within, cancel);
    }

    private async ValueTask<Exchange> AskUntilAnsweredAsync(Command command, CancellationToken cancel)
    {
        // Back in the caller's context after every wait: a single-threaded virtual clock drives this too.
        ResilienceContext context = ResilienceContextPool.Shared.Get(continueOnCapturedContext: true, cancel);
        int sent = 0;
        try
        {
            return await _askAgain.ExecuteAsync(
                async asking =>
                {
                    if (++sent > 1)
                    {
                        await _wire.HearQuietAsync(asking.CancellationToken);
                        _wire.Balance();
                        Interlocked.Increment(ref _wire.Counts.Resends);
                        _raise(new ChannelEvent.Resent(command.Text, sent));
                    }

                    TimeSpan within = sent == 1 ? _wire.Times.Query : _wire.Times.AfterSilence(_wire.Times.Query);
                    return await SendOnceAsync(command, within, asking.CancellationToken);
                },
                context);
        }
        finally
        {
            ResilienceContextPool.Shared.Return(context);
        }
    }

    private async ValueTask<Exchange> SendOnceAsync(Command command, TimeSpan within, CancellationToken cancel)
    {
        var ledger = new ReplyLedger(command);
        _occupied = within;
        await _wire.WriteAsync(command.Text, command);
        long began = _wire.Now;
        long due = _wire.DueIn(within);
        bool isDoubted = false;
        while (true)
        {
            HeardLine heard = await _wire.HearAsync(due, cancel);
            if (heard.IsSilence)
            {
                if (isDoubted)
                {
                    _occupied = TimeSpan.Zero;
                    return ledger.Conclude();
                }

                Interlocked.Increment(ref _wire.Counts.Silences);
                _wire.IsDisturbed = true;
                throw new LinkSilentException(_wire.Since(began), command.Text, command.Kind);
            }

            switch (heard.Meaning.Kind)
            {
                case LineKind.Acknowledge:
                    ledger.Acknowledge(heard.Text!);
                    if (command.Answer is null || ledger.IsAnswered || ledger.Unknown is not null)
                    {
                        _occupied = TimeSpan.Zero;
                        return ledger.Conclude();
                    }

                    // An acknowledgement alone may be a doubled one of an earlier command: the answer may still come.
                    isDoubted = true;
                    due = ledger.HasReplies ? _wire.DueIn(_wire.Times.Quiet) : due;
                    break;

                case LineKind.Resend:
                    await _wire.HearRefusalEndAsync(cancel);
                    throw new LineRefusedException(command.Text, 1, ledger.Error);

                case LineKind.Busy:
                    due = _wire.DueIn(_wire.Times.AfterBusy);
                    break;

                default:
                    if (ledger.Add(heard))
                    {
                        due = _wire.DueIn(isDoubted ? _wire.Times.Quiet : within);
                    }

                    break;
            }
        }
    }
}
