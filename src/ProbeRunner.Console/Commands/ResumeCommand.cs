using System.CommandLine;

namespace ProbeRunner.Console.Commands;

/// <summary><c>resume</c>: takes up a run that was cut off.</summary>
internal static class ResumeCommand
{
    /// <summary>Makes the command.</summary>
    public static Command Create(ProgramContext context) => RecordedRunCommand.Create(
        "resume",
        "Take up a run that was cut off, at the first thing that is missing. Nothing acknowledged is taken twice.",
        context,
        (session, run, connection, cancel) => session.ResumeAsync(run, connection, cancel));
}
