using ProbeRunner.Transport.Framing;

namespace ProbeRunner.Transport.Commands;

/// <summary>Brings a controller that may just be starting to the point where it answers, and finds out whether it checks checksums.</summary>
internal sealed class SessionStart(
    ControllerWire wire, ILineGrammar grammar, ChannelOptions options, TimeProvider time, Action<ChannelEvent> raise)
{
    /// <summary>Damage twice in a row happens; three times it is the controller.</summary>
    private const int Attempts = 3;

    /// <summary>A controller that never falls silent is asked after this part of the time for starting: if it is still starting, it will say so.</summary>
    private const int ListensUntilAsked = 3;

    private enum Hearing
    {
        Acknowledged,
        Refused,
        Unknown,
        Silent,
    }

    /// <summary>Listens, asks, and gives the conversation that the controller understands.</summary>
    /// <exception cref="LinkSilentException">No answer within the time for starting.</exception>
    /// <exception cref="LineRefusedException">It answers, but takes nothing.</exception>
    public async ValueTask<IConversation> RunAsync(CancellationToken cancel)
    {
        long began = wire.Now;
        long latest = wire.DueIn(wire.Times.Start);
        await ListenAsync(wire.Times.Listen, wire.DueIn(wire.Times.Start / ListensUntilAsked), cancel);
        bool isNumbered = options.Numbered;
        Exception? last = null;
        while (wire.Now < latest)
        {
            try
            {
                if (isNumbered && !await SetNumberAsync(cancel))
                {
                    isNumbered = false;
                }

                IConversation conversation = isNumbered ? new NumberedConversation(wire, grammar, options, raise) : Plain();
                await conversation.AskAsync(cancel);
                return isNumbered && !await IsChecksumCheckedAsync(cancel) ? Plain() : conversation;
            }
            catch (ControllerStartedException)
            {
                // It was still starting when it was asked.
                await ListenAsync(wire.Times.Quiet, Math.Min(latest, wire.DueIn(wire.Times.Quiet * ListensUntilAsked)), cancel);
            }
            catch (CommandUnknownException) when (isNumbered)
            {
                isNumbered = false;
            }
            catch (Exception refusal) when (refusal is LineRefusedException or LinkSilentException or ControllerResetException)
            {
                last = refusal is LineRefusedException ? refusal : last;
                await ListenAsync(wire.Times.Quiet, Math.Min(latest, wire.DueIn(wire.Times.Quiet * ListensUntilAsked)), cancel);
            }
        }

        throw last ?? new LinkSilentException(wire.Since(began), grammar.Question.Text, CommandKind.Query);
    }

    private PlainConversation Plain() => new(wire, grammar, options, time, raise);

    /// <summary>Waits whether the controller is starting; if it says something, until it has said all or chatters on until the latest.</summary>
    private async ValueTask ListenAsync(TimeSpan within, long latest, CancellationToken cancel)
    {
        long due = wire.DueIn(within);
        while (true)
        {
            try
            {
                HeardLine heard = await wire.HearAsync(Math.Min(due, latest), cancel);
                if (heard.IsSilence)
                {
                    wire.Balance();
                    return;
                }

                if (heard.Meaning.Kind is LineKind.TemperatureReport or LineKind.Idle or LineKind.Busy)
                {
                    continue;
                }

                wire.HearStray(heard);
            }
            catch (ControllerStartedException)
            {
                // This is what is listened for.
            }

            due = wire.DueIn(wire.Times.Quiet);
        }
    }

    /// <summary>
    /// Sets the line number, sealed against damage if the controller takes that, else plainly. Whether it was set right, the numbered
    /// question that follows shows.
    /// </summary>
    /// <returns>False when the controller does not know how to.</returns>
    private async ValueTask<bool> SetNumberAsync(CancellationToken cancel)
    {
        int last = options.FirstLineNumber - 1;
        var set = new Command(grammar.SetLineNumber(last), CommandKind.Setting);
        string numbered = grammar.Number(set.Text, last);
        string sealedText = grammar.Seal(numbered, LineChecksum.Of(numbered));
        for (int attempt = 1; attempt <= Attempts; attempt++)
        {
            switch (await SayAsync(sealedText, set, cancel))
            {
                case Hearing.Acknowledged:
                    return true;
                case Hearing.Silent:
                    throw new LinkSilentException(wire.Times.Setting, set.Text, set.Kind);
            }
        }

        for (int attempt = 1; attempt <= Attempts; attempt++)
        {
            if (await SayAsync(set.Text, set, cancel) != Hearing.Unknown)
            {
                return true;
            }
        }

        return false;
    }

    /// <summary>
    /// Sends a harmless query with a wrong checksum: a controller that answers it would also act on a damaged line. Believed when it
    /// happens twice, since damage to the number's letter can make an unnumbered command of one.
    /// </summary>
    private async ValueTask<bool> IsChecksumCheckedAsync(CancellationToken cancel)
    {
        for (int number = options.FirstLineNumber + 1; number <= options.FirstLineNumber + 2; number++)
        {
            string numbered = grammar.Number(grammar.Question.Text, number);
            string wrong = grammar.Seal(numbered, LineChecksum.Of(numbered) ^ 0x40);
            long errors = Interlocked.Read(ref wire.Counts.Errors);
            Hearing heard = await SayAsync(wrong, grammar.Question, cancel);
            Interlocked.Exchange(ref wire.Counts.Errors, errors); // this refusal was asked for: no trouble of the line's
            if (heard != Hearing.Acknowledged)
            {
                return true;
            }
        }

        return false;
    }

    private async ValueTask<Hearing> SayAsync(string line, Command command, CancellationToken cancel)
    {
        await wire.WriteAsync(line, command);
        long due = wire.DueIn(wire.Times.Of(command.Kind));
        var hearing = Hearing.Acknowledged;
        while (true)
        {
            HeardLine heard = await wire.HearAsync(due, cancel);
            if (heard.IsSilence)
            {
                wire.Balance();
                return hearing == Hearing.Acknowledged ? Hearing.Silent : hearing;
            }

            switch (heard.Meaning.Kind)
            {
                case LineKind.Acknowledge:
                    return hearing;
                case LineKind.Error or LineKind.Resend:
                    hearing = Hearing.Refused;
                    due = wire.DueIn(wire.Times.Quiet);
                    break;
                case LineKind.UnknownCommand:
                    hearing = Hearing.Unknown;
                    due = wire.DueIn(wire.Times.Quiet);
                    break;
            }
        }
    }
}
