using ProbeRunner.Transport.Commands;

namespace ProbeRunner.Machine.Dialects;

/// <summary>How a dialect frames what is sent and recognises what is received.</summary>
/// <param name="Halt">The line that stops everything at once.</param>
/// <param name="BeforeNumber">What stands before a line's number.</param>
/// <param name="AfterNumber">What stands between number and command.</param>
/// <param name="BeforeChecksum">What stands between command and checksum.</param>
/// <param name="SetNumber">Sets the number of the last line; one parameter, number.</param>
/// <param name="Numbered">Whether the controller knows numbered lines at all.</param>
/// <param name="Kinds">Each kind of line, in the order in which they are tried.</param>
internal sealed record LineWords(
    string Halt,
    string BeforeNumber,
    string AfterNumber,
    string BeforeChecksum,
    CommandTemplate SetNumber,
    bool Numbered,
    IReadOnlyList<(LineKind Kind, ReplyPattern Pattern)> Kinds);
