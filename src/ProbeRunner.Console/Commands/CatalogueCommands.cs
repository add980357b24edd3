using System.CommandLine;
using ProbeRunner.Console.Wiring;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Procedures.Scripts;
using ProbeRunner.Procedures.Steps;

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

    /// <summary><c>scripts</c>: the run scripts found, and the steps that can be run alone.</summary>
    public static Command Scripts(ProgramContext context)
    {
        var listing = Listing(
            "scripts",
            "List the run scripts found, yours first, and the steps that can be run alone.",
            context,
            ProfileKind.RunScript,
            name => RunScript.Load(ProgramFolders.Profiles(context).Locate(ProfileKind.RunScript, name)).Purpose,
            () =>
            {
                context.Output.WriteLine();
                context.Output.WriteLine("Steps:");
                foreach (var step in StepCatalogue.Names)
                {
                    context.Output.WriteLine($"{step,-18} {StepCatalogue.WithDefaults(step).Title}");
                }
            });
        return listing;
    }

    private static Command Listing(string command, string description, ProgramContext context, ProfileKind kind, Func<string, string> purpose, Action? afterwards = null)
    {
        var listing = new Command(command, description);
        listing.SetAction(_ =>
        {
            foreach (var name in ProgramFolders.Profiles(context).Names(kind))
            {
                context.Output.WriteLine($"{name,-18} {purpose(name)}");
            }

            afterwards?.Invoke();
            return ExitCodes.Fit;
        });
        return listing;
    }
}
