using System.CommandLine;
using ProbeRunner.Console.Wiring;
using ProbeRunner.Machine.Profiles;

namespace ProbeRunner.Console.Commands;

/// <summary>Lists what there is to name on the command line: machines and run scripts.</summary>
internal static class CatalogueCommands
{
    /// <summary><c>machines</c>: the machine profiles found.</summary>
    public static Command Machines(ProgramContext context) => Listing(
        "machines",
        "List the machine profiles found, yours first.",
        context,
        ProfileKind.Machine,
        name => ProgramFolders.Profiles(context).Machine(name).Title);

    private static Command Listing(string command, string description, ProgramContext context, ProfileKind kind, Func<string, string> purpose)
    {
        var listing = new Command(command, description);
        listing.SetAction(_ =>
        {
            foreach (var name in ProgramFolders.Profiles(context).Names(kind))
            {
                context.Output.WriteLine($"{name,-18} {purpose(name)}");
            }

            return ExitCodes.Fit;
        });
        return listing;
    }
}
