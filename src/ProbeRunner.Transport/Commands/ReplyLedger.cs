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

    /// <summary>Whether the line that answers the command was heard.</summary>
    public bool IsAnswered { get; private set; }

    /// <summary>Whether an acknowledgement was heard for this sending or a kept one.</summary>
    public bool WasAcknowledged => _acknowledgement.Length > 0 || _keptAcknowledgement.Length > 0;

    /// <summary>Whether any reply was heard for this sending.</summary>
    public bool HasReplies => !_replies.IsEmpty;

    /// <summary>The line that said that the command is unknown.</summary>
    public string? Unknown { get; private set; }

    /// <summary>The last error line that is not the answer.</summary>
    public string? Error { get; private set; }

    /// <summary>Whether an acknowledgement now can be believed to be this command's own, and the command to have been taken.</summary>
    public bool IsSound => Unknown is null && Error is null && (command.Answer is null || IsAnswered);

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
                Unknown = heard.Text;
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

    /// <summary>Takes an acknowledgement, which can be the answer too.</summary>
    public void Acknowledge(string line)
    {
        _acknowledgement = line;
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
        }

        Discard();
    }

    /// <summary>Before sending again what was refused: what was heard belongs to the refusal.</summary>
    public void Discard()
    {
        _replies = [];
        _acknowledgement = string.Empty;
        Unknown = null;
        Error = null;
        IsAnswered = false;
    }

    /// <summary>The exchange, as this sending gave it.</summary>
    /// <exception cref="CommandUnknownException">The controller does not know the command.</exception>
    public Exchange Conclude() => Conclude(_replies, _acknowledgement, Unknown);

    /// <summary>The exchange, as the kept sending gave it.</summary>
    /// <exception cref="CommandUnknownException">The controller does not know the command.</exception>
    public Exchange ConcludeKept() => Conclude(_keptReplies, _keptAcknowledgement, _keptUnknown);

    private Exchange Conclude(ImmutableArray<string> replies, string acknowledgement, string? unknown)
        => unknown is null ? new Exchange(command, replies, acknowledgement) : throw new CommandUnknownException(command.Text, unknown);
}
