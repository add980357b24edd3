using ProbeRunner.Transport.Framing;

namespace ProbeRunner.Transport.Commands;

/// <summary>
/// Puts commands through with line numbers and checksums. A line is sent again with the same number when it was refused, not answered,
/// or answered doubtfully: a controller that had it asks for the next number instead of carrying it out twice. A request for any line
/// but the one under way or the one before it means that the controller counts anew: it was reset.
/// </summary>
internal sealed class NumberedConversation(ControllerWire wire, ILineGrammar grammar, ChannelOptions options, Action<ChannelEvent> raise)
    : IConversation
{
    /// <summary>Two in a row can be damage to the number's letter; three are a controller that knows no numbers.</summary>
    private const int UnknownsBelieved = 3;

    private int _number = options.FirstLineNumber;

    /// <summary>What is sent if the line before the next is wanted; null: its number is known to have been had.</summary>
    private NumberedCommand? _before;

    /// <summary>How long the controller may still be occupied by a command that was given up.</summary>
    private TimeSpan _occupied;

    /// <summary>The text of a line as sent.</summary>
    public string Sealed(NumberedCommand line)
    {
        string numbered = grammar.Number(line.Command.Text, line.Number);
        return grammar.Seal(numbered, LineChecksum.Of(numbered));
    }

    /// <inheritdoc/>
    public async ValueTask<Exchange> SendAsync(Command command, CancellationToken cancel)
    {
        Exchange exchange = await TakeNumberAsync(command, wire.Times.Of(command.Kind), cancel);
        if (command.Answer is null && (command.Kind == CommandKind.LongMotion || !command.Repeatable))
        {
            await ConfirmAsync(command, cancel);
        }

        return exchange;
    }

    /// <inheritdoc/>
    public async ValueTask AskAsync(CancellationToken cancel)
    {
        TimeSpan within = _occupied > wire.Times.Query ? _occupied : wire.Times.Query;
        await TakeNumberAsync(grammar.Question, within, cancel);
        _occupied = TimeSpan.Zero;
    }

    /// <summary>
    /// Asks a question after a command whose acknowledgement proves little: it could be a doubled one of an earlier command, or be given
    /// to a line whose damage made another command of it. The answer to a later question can't come before the command is done.
    /// </summary>
    private async ValueTask ConfirmAsync(Command command, CancellationToken cancel)
    {
        int number = _number - 1;
        bool wasFilled = false;
        if (!command.Repeatable && _before is not null)
        {
            // A question in its place shows by being wanted that the number was not had.
            var filler = grammar.Question with { Answer = line => Fills(line) };
            _before = new NumberedCommand(filler, number);
        }

        await TakeNumberAsync(grammar.Question, wire.Times.LongMotion, cancel);
        if (wasFilled)
        {
            throw new CommandUncertainException(command.Text, command.Kind);
        }

        bool Fills(string line)
        {
            wasFilled = true;
            return grammar.Question.Answer?.Invoke(line) != false;
        }
    }

    private async ValueTask<Exchange> TakeNumberAsync(Command command, TimeSpan within, CancellationToken cancel)
    {
        var line = new NumberedCommand(command, _number++);
        NumberedCommand? before = _before;

        // However this ends: a number that was not had is filled by a question, never by a command that was given up.
        _before = new NumberedCommand(grammar.Question, line.Number);
        _occupied = within;
        (Exchange exchange, bool isProven) = await PutThroughAsync(line, before, within, cancel);
        _occupied = TimeSpan.Zero;
        bool mayRepeat = command.Answer is null && command.Repeatable;
        _before = isProven ? null : mayRepeat ? line : _before;
        return exchange;
    }

    private async ValueTask<(Exchange Exchange, bool IsProven)> PutThroughAsync(
        NumberedCommand line, NumberedCommand? before, TimeSpan within, CancellationToken cancel)
    {
        var ledger = new ReplyLedger(line.Command);
        var attempts = new Attempts(line.Command, options, wire, raise);
        string text = Sealed(line);
        int had = 0;
        int unknowns = 0;
        bool isDoubted = false;
        await wire.WriteAsync(text, line.Command);
        long due = wire.DueIn(within);
        while (true)
        {
            HeardLine heard = await wire.HearAsync(due, cancel);
            switch (heard.Meaning.Kind)
            {
                case var _ when heard.IsSilence:
                    if (isDoubted)
                    {
                        unknowns = ledger.Unknown is null ? 0 : unknowns + 1;
                        if (unknowns == UnknownsBelieved)
                        {
                            return (ledger.Conclude(), false);
                        }

                        attempts.CountRefusal(ledger.Error ?? ledger.Unknown);
                    }
                    else
                    {
                        attempts.CountSilence();
                    }

                    ledger.Keep();
                    break;

                case LineKind.Acknowledge when heard.Meaning.LineNumber is int number && number != line.Number:
                    wire.HearStray(heard);
                    continue;

                case LineKind.Acknowledge:
                    ledger.Acknowledge(heard.Text!);
                    bool isProven = heard.Meaning.LineNumber == line.Number;
                    if (isProven || ledger.IsSound)
                    {
                        return (ledger.Conclude(), isProven);
                    }

                    isDoubted = true;
                    due = wire.DueIn(wire.Times.Quiet);
                    continue;

                case LineKind.Resend when heard.Meaning.LineNumber == line.Number + 1:
                    await wire.HearRefusalEndAsync(cancel);
                    had++;

                    // Heard once it could be a damaged request for this very line.
                    if (had == 2 || ledger.WasAcknowledged)
                    {
                        return (ledger.ConcludeKept(), true);
                    }

                    ledger.Discard();
                    attempts.CountRefusal(heard.Text);
                    break;

                case LineKind.Resend when heard.Meaning.LineNumber == line.Number:
                    await wire.HearRefusalEndAsync(cancel);
                    attempts.CountRefusal(ledger.Error);
                    ledger.Discard();
                    break;

                case LineKind.Resend when before is { } misread && heard.Meaning.LineNumber == misread.Number:
                    await wire.HearRefusalEndAsync(cancel);
                    attempts.CountRefusal(ledger.Error);
                    ledger.Discard();
                    await PutThroughAsync(misread, null, wire.Times.Of(misread.Command.Kind), cancel);
                    break;

                case LineKind.Resend:
                    wire.DeclareReset(heard.Text!);
                    throw new ControllerResetException(heard.Text!, line.Command.Text);

                case LineKind.Busy:
                    due = wire.DueIn(wire.Times.AfterBusy);
                    continue;

                default:
                    if (ledger.Add(heard))
                    {
                        due = wire.DueIn(isDoubted ? wire.Times.Quiet : within);
                    }

                    continue;
            }

            isDoubted = false;
            attempts.Announce();
            await wire.WriteAsync(text, line.Command);
            due = wire.DueIn(within);
        }
    }
}
