namespace ProbeRunner.Transport.Commands;

/// <summary>One command for the controller.</summary>
/// <param name="Text">A rendered dialect template: one line of printable ASCII without line end, line number or checksum.</param>
/// <param name="Kind">What it does to the machine.</param>
public sealed record Command(string Text, CommandKind Kind)
{
    /// <summary>
    /// Recognises the line that answers this command, success or failure; the acknowledgement itself may be it (a temperature behind
    /// the acknowledgement). With it, an acknowledgement without an answer is doubted: it may be a doubled one of an earlier command.
    /// Null (the default): the acknowledgement alone will do. Every command that has an answer should say how to recognise it.
    /// </summary>
    public Func<string, bool>? Answer { get; init; }

    /// <summary>
    /// Whether carrying the command out twice has the effect of once; true unless said otherwise. False for whatever is relative
    /// (a step from where the axis is): when damage leaves open whether such a command was carried out, it fails with
    /// <see cref="CommandUncertainException"/> instead of being sent again.
    /// </summary>
    public bool Repeatable { get; init; } = true;
}
