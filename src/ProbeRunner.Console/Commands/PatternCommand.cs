using System.CommandLine;
using ProbeRunner.Console.Wiring;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Steps.FirstLayer;
using ProbeRunner.Records.Store;

namespace ProbeRunner.Console.Commands;

/// <summary><c>pattern</c>: writes the first-layer check's patches to a file, for a machine that prints without this program.</summary>
internal static class PatternCommand
{
    /// <summary>Makes the command.</summary>
    public static Command Create(ProgramContext context)
    {
        var machine = new Option<string>("--machine") { Description = "A machine profile's name or path. See the machines command.", HelpName = "M", Required = true };
        var file = new Option<string>("-o", "--output") { Description = "The file to write.", HelpName = "FILE", Required = true };
        var from = new Option<string?>("--from") { Description = "A recorded run with a capture and a mesh: its worst predicted places come first.", HelpName = "RUN" };
        var set = SharedOptions.Set();
        var store = SharedOptions.Store();
        var command = new Command("pattern", "Write the first-layer check's patches to a file for the machine to print. Nothing is sent.") { machine, file, from, set, store };
        command.SetAction(parsed =>
        {
            var catalogue = ProgramFolders.Profiles(context);
            var profile = catalogue.Machine(parsed.GetValue(machine)!);
            var earlier = parsed.GetValue(from) is { } run
                ? RunStore.OpenExisting(parsed.GetValue(store) ?? StoreLocation.Default(context.Environment)).Read(run)
                : null;
            if (earlier is not null && earlier.Header.MachineName != profile.Name)
            {
                throw new UsageException($"Run {earlier.Header.RunId} was done on {earlier.Header.MachineName}, not on {profile.Name}. No file was written.");
            }

            var text = FirstLayerPattern.Render(
                catalogue.Dialect(profile.Dialect), profile, [.. parsed.GetValue(set) ?? []],
                earlier?.Conclusion<CaptureConclusion>(), earlier?.Conclusion<MeshConclusion>());
            var path = parsed.GetValue(file)!;
            File.WriteAllText(path, text);
            context.Error.WriteLine($"Written: {Path.GetFullPath(path)}");
            context.Error.WriteLine("Print it only over a Z offset that was proven, with the mesh stored. Nozzle and bed get hot: stay with it, a hand at the mains switch.");
            return ExitCodes.Fit;
        });
        return command;
    }
}
