using System.Reflection;

namespace ProbeRunner.EndToEnd.Tests.Architecture;

/// <summary>References go one way: Console, Records, Procedures, Machine, Transport; Metrology and Transport know nobody.</summary>
public sealed class ReferencesTests
{
    private static readonly Dictionary<string, string[]> Allowed = new()
    {
        ["ProbeRunner.Metrology"] = [],
        ["ProbeRunner.Transport"] = [],
        ["ProbeRunner.Machine"] = ["ProbeRunner.Transport"],
        ["ProbeRunner.Procedures"] = ["ProbeRunner.Machine", "ProbeRunner.Transport", "ProbeRunner.Metrology"],
        ["ProbeRunner.Records"] = ["ProbeRunner.Procedures", "ProbeRunner.Machine", "ProbeRunner.Transport", "ProbeRunner.Metrology"],
        ["ProbeRunner.SimulatedPrinter"] = ["ProbeRunner.Transport"],
        ["proberunner"] =
        [
            "ProbeRunner.Records", "ProbeRunner.Procedures", "ProbeRunner.Machine", "ProbeRunner.Transport",
            "ProbeRunner.Metrology", "ProbeRunner.SimulatedPrinter",
        ],
    };

    public static TheoryData<string> Assemblies => [.. Allowed.Keys];

    [Theory]
    [MemberData(nameof(Assemblies))]
    public void Each_part_refers_only_to_the_parts_below_it(string assembly)
    {
        var references = Assembly.Load(assembly).GetReferencedAssemblies()
            .Select(reference => reference.Name!)
            .Where(Allowed.ContainsKey);

        Assert.Empty(references.Except(Allowed[assembly]));
    }

    [Theory]
    [InlineData("ProbeRunner.Metrology")]
    public void The_maths_does_no_input_or_output(string assembly)
    {
        string[] banned = ["System.IO.FileSystem", "System.Net", "System.IO.Ports", "System.Console", "System.Diagnostics.Process"];

        var references = Assembly.Load(assembly).GetReferencedAssemblies().Select(reference => reference.Name!);

        Assert.DoesNotContain(references, reference => banned.Any(reference.StartsWith));
    }
}
