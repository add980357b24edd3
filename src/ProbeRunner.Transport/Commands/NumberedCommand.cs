namespace ProbeRunner.Transport.Commands;

/// <summary>A command with the number of its line.</summary>
internal readonly record struct NumberedCommand(Command Command, int Number);
