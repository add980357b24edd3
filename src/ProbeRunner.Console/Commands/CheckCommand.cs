using System.CommandLine;
using ProbeRunner.Machine.Dialects;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Procedures.Scripts;

namespace ProbeRunner.Console.Commands;

/// <summary><c>check</c>: reads a file that people edit and says what is wrong in it, by line and column.</summary>
internal static class CheckCommand
{
    /// <summary>Makes the command.</summary>
    public static Command Create(ProgramContext context)
    {
        var file = new Argument<string>("FILE") { Description = "A machine profile, dialect or run script." };
        var command = new Command("check", "Check a machine profile, dialect or run script; every fault is named with line and column.") { file };
        command.SetAction(parsed =>
        {
            var path = parsed.GetValue(file)!;
            context.Output.WriteLine($"{path}: a sound {Check(path)}.");
            return ExitCodes.Fit;
        });
        return command;
    }

    /// <summary>What the file is, told by the tables that only one kind has.</summary>
    private static string Check(string path)
    {
        var text = TomlFile.Load(path).Text;
        if (text.Contains("[[step]]", StringComparison.Ordinal))
        {
            RunScript.Load(path);
            return "run script";
        }

        if (text.Contains("[commands]", StringComparison.Ordinal))
        {
            DialectReader.Read(TomlFile.Load(path));
            return "dialect";
        }

        ProfileReader.Read(TomlFile.Load(path));
        return "machine profile";
    }
}
