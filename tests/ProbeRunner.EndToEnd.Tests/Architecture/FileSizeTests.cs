namespace ProbeRunner.EndToEnd.Tests.Architecture;

/// <summary>One concept a file: a long file needs a reason, stated here.</summary>
public sealed class FileSizeTests
{
    private const int Longest = 300;

    /// <summary>Files that may be longer, each with its reason.</summary>
    private static readonly Dictionary<string, string> Reasons = new()
    {
        ["src/ProbeRunner.Machine/Printers/Printer.Motion.cs"] = "all verbs that move, side by side, so that none can be read without its guard",
        ["src/ProbeRunner.Machine/Guard/GuardRules.cs"] = "the guard's rules are one list that is checked as a whole",
        ["src/ProbeRunner.Transport/Commands/ControllerWire.cs"] = "reader and writer share the state of one link and its one end",
    };

    [Fact]
    public void No_file_of_the_program_is_longer_than_a_reader_can_hold()
    {
        var offences = SourceTree.Sources("src").Concat(SourceTree.Sources("simulators"))
            .Select(file => (name: Path.GetRelativePath(SourceTree.Root, file), lines: File.ReadLines(file).Count()))
            .Where(file => file.lines > Longest && !Reasons.ContainsKey(file.name))
            .Select(file => $"{file.name}: {file.lines} lines");

        Assert.Empty(offences);
    }
}
