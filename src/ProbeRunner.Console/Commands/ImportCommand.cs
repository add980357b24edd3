using System.CommandLine;
using ProbeRunner.Records.Exports;
using ProbeRunner.Records.Store;

namespace ProbeRunner.Console.Commands;

/// <summary><c>import</c>: takes an exported run into a store.</summary>
internal static class ImportCommand
{
    /// <summary>Makes the command.</summary>
    public static Command Create(ProgramContext context)
    {
        var file = new Argument<string>("FILE") { Description = $"The file {RunFile.Name} that export wrote, or the folder it lies in. The tables beside it are for other programs and are not read." };
        var store = SharedOptions.Store();
        var command = new Command("import", $"Take an exported run into the store, from the file {RunFile.Name} of its export. A damaged file, or a run that is there already, is refused and nothing is written.")
        {
            file, store,
        };
        command.SetAction(parsed =>
        {
            var (header, entries) = RunFile.Read(parsed.GetValue(file)!);
            RunStore.Open(parsed.GetValue(store) ?? StoreLocation.Default(context.Environment)).Import(header, entries);
            context.Error.WriteLine(FormattableString.Invariant($"Imported: run {header.RunId} with {entries.Length} rows."));
            return ExitCodes.Fit;
        });
        return command;
    }
}
