using System.CommandLine;
using ProbeRunner.Console.Commands;

namespace ProbeRunner.Console.Guardian;

/// <summary>The guardian's way into the program; started by a run, never by a person.</summary>
internal static class GuardianCommand
{
    /// <summary>Its name on the command line.</summary>
    public const string Name = "guard-heaters";

    /// <summary>Makes the command.</summary>
    public static Command Create(ProgramContext context)
    {
        var command = new Command(Name, "Watches over a run's heaters; started by the run itself.") { Hidden = true };
        command.SetAction(async (_, _) => OperatingSystem.IsLinux()
            ? await new GuardianProgram(System.Console.OpenStandardInput(), context.Output, context.Error, context.Time).RunAsync()
            : ExitCodes.BadInput);
        return command;
    }
}
