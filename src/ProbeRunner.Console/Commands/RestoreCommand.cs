using System.CommandLine;

namespace ProbeRunner.Console.Commands;

/// <summary><c>restore</c>: gives the controller back the settings that a run found at its preflight.</summary>
internal static class RestoreCommand
{
    /// <summary>Makes the command.</summary>
    public static Command Create(ProgramContext context) => RecordedRunCommand.Create(
        "restore",
        "Put probe offset, correction mesh and what a run may have left switched back as it found them, read back and stored, after you confirm. Nothing moves.",
        context,
        (session, run, connection, cancel) => session.RestoreAsync(run, connection, cancel));
}
