using System.Collections.Immutable;

namespace ProbeRunner.Transport.Commands;

/// <summary>A command and what the controller said to it.</summary>
/// <param name="Command">The command.</param>
/// <param name="Replies">
/// The lines between the command and its acknowledgement, raw and in order, without keep-alives, idle notices and temperature reports
/// that the command's <see cref="Command.Answer"/> does not claim. Lines nobody asked for can be among them.
/// </param>
/// <param name="Acknowledgement">
/// The acknowledging line, raw. Empty when it never arrived, and the controller showed by asking for the next line that it had this one.
/// </param>
public sealed record Exchange(Command Command, ImmutableArray<string> Replies, string Acknowledgement);
