using System.Runtime.CompilerServices;
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
    [AsyncMethodBuilder(typeof(PoolingAsyncValueTaskMethodBuilder<>))]
    public async ValueTask<Exchange> SendAsync(Command command, CancellationToken cancel)
    {
        TimeSpan within = wire.Times.Of(command.Kind);
        Outcome outcome;
        try
        {
            outcome = await TakeNumberAsync(command, within, cancel);
        }
        catch (CommandUncertainException) when (command.Repeatable)
        {
            outcome = await TakeNumberAsync(command, within, cancel);
        }

        bool provesLittle = command.Answer is null && (command.Kind == CommandKind.LongMotion || !command.Repeatable);
        if (provesLittle || !outcome.IsInStep)
        {
            await ConfirmAsync(command, cancel);
        }

        return outcome.Exchange;
    }

    /// <inheritdoc/>
    public async ValueTask AskAsync(CancellationToken cancel)
    {
        TimeSpan within = _occupied > wire.Times.Query ? _occupied : wire.Times.Query;
        await AskUntilInStepAsync(within, cancel);
    }

    /// <summary>
    /// Asks a question after a command whose acknowledgement proves little: it could be a doubled one of an earlier command, or be given
    /// to a piece of a damaged line, or to a line whose damage made another command of it. The answer to a later question can't come
    /// before the command is done.
    /// </summary>
    /// <exception cref="CommandUncertainException">The command must not be repeated, and its number turns out not to have been had.</exception>
    private async ValueTask ConfirmAsync(Command command, CancellationToken cancel)
    {
        bool wasFilled = false;
        if (!command.Repeatable && _before is { } before)
        {
            // A question in the command's place shows, by being wanted, that the number was not had.
            _before = before with { Command = grammar.Question with { Answer = NotesFilling } };
        }

        TimeSpan within = command.Kind == CommandKind.LongMotion ? wire.Times.LongMotion : wire.Times.Setting;
        await AskUntilInStepAsync(within, cancel);
        if (wasFilled)
        {
            throw new CommandUncertainException(command.Text, command.Kind);
        }

        bool NotesFilling(string line)
        {
            wasFilled = true;
            return grammar.Question.Answer?.Invoke(line) != false;
        }
    }

    private async ValueTask AskUntilInStepAsync(TimeSpan within, CancellationToken cancel)
    {
        for (int round = 1; !(await TakeNumberAsync(grammar.Question, within, cancel)).IsInStep; round++)
        {
            if (round == options.AttemptsWhenRefused)
            {
                wire.IsDisturbed = true;
                return;
            }
        }
    }

    [AsyncMethodBuilder(typeof(PoolingAsyncValueTaskMethodBuilder<>))]
    private async ValueTask<Outcome> TakeNumberAsync(Command command, TimeSpan within, CancellationToken cancel)
    {
        var line = new NumberedCommand(command, _number++);
        NumberedCommand? before = _before;

        // However this ends: a number that was not had is filled by a question, never by a command that was given up.
        _before = new NumberedCommand(grammar.Question, line.Number);
        _occupied = within;
        Outcome outcome = await PutThroughAsync(line, before, within, cancel);
        _occupied = TimeSpan.Zero;
        bool mayRepeat = command.Answer is null && command.Repeatable;
        _before = outcome.IsProven ? null : mayRepeat ? line : _before;
        return outcome;
    }

    [AsyncMethodBuilder(typeof(PoolingAsyncValueTaskMethodBuilder<>))]
    private async ValueTask<Outcome> PutThroughAsync(
        NumberedCommand line, NumberedCommand? before, TimeSpan within, CancellationToken cancel)
    {
        var ledger = new ReplyLedger(line.Command);
        var attempts = new Attempts(line.Command, options, wire, raise);
        string text = Sealed(line);
        int had = 0;
        int unknowns = 0;
        bool isDoubted = false;
        bool isUnknownDoubtful = false;
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

                        // Said to a line that was sent again it may be about the two glued together, which can even fit their checksum.
                        isUnknownDoubtful |= unknowns > 0 && attempts.IsRepeated;
                        if (unknowns == UnknownsBelieved)
                        {
                            return new Outcome(ledger.Conclude(), IsProven: false, IsInStep: false);
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
                        return new Outcome(ledger.Conclude(), isProven, isProven || !attempts.IsRepeated);
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
                        return new Outcome(ledger.ConcludeKept(isUnknownDoubtful), IsProven: true, IsInStep: false);
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
            due = wire.DueIn(attempts.IsSilent ? wire.Times.AfterSilence(within) : within);
        }
    }

    /// <summary>How a line was put through.</summary>
    /// <param name="Exchange">What came of it.</param>
    /// <param name="IsProven">Whether the controller is known to have had the line's number.</param>
    /// <param name="IsInStep">Whether the acknowledgement is surely the last one to come: it named the number, or the line went out only once.</param>
    private readonly record struct Outcome(Exchange Exchange, bool IsProven, bool IsInStep);
}
