using System.Collections.Immutable;

namespace ProbeRunner.Transport.Commands;

/// <summary>What the controller said to one sending of a command, and what is worth keeping of an earlier sending.</summary>
internal sealed class ReplyLedger(Command command)
{
    private const int MostReplies = 4096;

    private ImmutableArray<string> _replies = [];
    private ImmutableArray<string> _keptReplies = [];
    private string _acknowledgement = string.Empty;
    private string _keptAcknowledgement = string.Empty;
    private string? _keptUnknown;
    private string? _announcedUnknown;
    private bool _wasTaken;
    private bool _keptWasTaken;

    /// <summary>Whether the line that answers the command was heard.</summary>
    public bool IsAnswered { get; private set; }

    /// <summary>Whether an acknowledgement was heard for this sending or a kept one.</summary>
    public bool WasAcknowledged => _acknowledgement.Length > 0 || _keptAcknowledgement.Length > 0;

    /// <summary>Whether any reply was heard for this sending.</summary>
    public bool HasReplies => !_replies.IsEmpty;

    /// <summary>The line that said that the command is unknown, once that was acknowledged.</summary>
    public string? Unknown { get; private set; }

    /// <summary>The last error line that is not the answer.</summary>
    public string? Error { get; private set; }

    /// <summary>
    /// Whether the last acknowledgement can be believed to be this command's own, and the command to have been taken: it did not belong
    /// to an unknown command, and either the answer was heard or nothing speaks against it.
    /// </summary>
    public bool IsSound => _wasTaken && (command.Answer is null ? Unknown is null && Error is null : IsAnswered);

    /// <summary>Takes a line that is no acknowledgement and no resend request.</summary>
    /// <returns>Whether it is a reply, so that the wait may begin anew.</returns>
    public bool Add(HeardLine heard)
    {
        bool isAnswer = command.Answer?.Invoke(heard.Text!) == true;
        IsAnswered |= isAnswer;
        switch (heard.Meaning.Kind)
        {
            case LineKind.TemperatureReport or LineKind.Idle or LineKind.Busy when !isAnswer:
                return false;
            case LineKind.UnknownCommand when !isAnswer:
                _announcedUnknown = heard.Text;
                return true;
            case LineKind.Error when !isAnswer:
                Error = heard.Text;
                break;
        }

        if (_replies.Length >= MostReplies)
        {
            return false;
        }

        _replies = _replies.Add(heard.Text!);
        return true;
    }

    /// <summary>Takes an acknowledgement, which can be the answer too, or the end of an unknown command.</summary>
    public void Acknowledge(string line)
    {
        _acknowledgement = line;
        _wasTaken |= _announcedUnknown is null;
        Unknown ??= _announcedUnknown;
        _announcedUnknown = null;
        IsAnswered |= command.Answer?.Invoke(line) == true;
    }

    /// <summary>Before sending again what may have been carried out: what was heard stays valid if it turns out that it was.</summary>
    public void Keep()
    {
        if (HasReplies || _acknowledgement.Length > 0)
        {
            _keptReplies = _replies;
            _keptAcknowledgement = _acknowledgement;
            _keptUnknown = Unknown;
            _keptWasTaken = _wasTaken;
        }

        Discard();
    }

    /// <summary>Before sending again what was refused: what was heard belongs to the refusal.</summary>
    public void Discard()
    {
        _replies = [];
        _acknowledgement = string.Empty;
        _announcedUnknown = null;
        _wasTaken = false;
        Unknown = null;
        Error = null;
        IsAnswered = false;
    }

    /// <summary>The exchange, as this sending gave it; the last acknowledgement is its own.</summary>
    /// <exception cref="CommandUnknownException">The controller does not know the command.</exception>
    public Exchange Conclude() => _wasTaken || Unknown is null
        ? new Exchange(command, _replies, _acknowledgement)
        : throw new CommandUnknownException(command.Text, Unknown);

    /// <summary>The exchange, as the kept sending gave it; the controller is known to have had the line.</summary>
    /// <exception cref="CommandUnknownException">The controller does not know the command.</exception>
    /// <exception cref="CommandUncertainException">
    /// It said so, but that is doubtful, or it acknowledged the line too: either may belong to a piece of a damaged line.
    /// </exception>
    public Exchange ConcludeKept(bool isUnknownDoubtful) => (_keptUnknown, _keptWasTaken || isUnknownDoubtful) switch
    {
        (null, _) => new Exchange(command, _keptReplies, _keptAcknowledgement),
        (_, true) => throw new CommandUncertainException(command.Text, command.Kind),
        (string unknown, false) => throw new CommandUnknownException(command.Text, unknown),
    };
}
