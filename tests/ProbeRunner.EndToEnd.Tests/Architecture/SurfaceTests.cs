using System.Reflection;
using PublicApiGenerator;

namespace ProbeRunner.EndToEnd.Tests.Architecture;

/// <summary>What each library shows to the others, pinned as text in the tree, so that a change of it is seen when it is reviewed.</summary>
public sealed class SurfaceTests
{
    private const string RefreshSwitch = "PROBERUNNER_REFRESH_SURFACES";

    private static readonly ApiGeneratorOptions Plain = new() { IncludeAssemblyAttributes = false };

    [Theory]
    [InlineData("ProbeRunner.Metrology")]
    [InlineData("ProbeRunner.Transport")]
    [InlineData("ProbeRunner.Machine")]
    [InlineData("ProbeRunner.Procedures")]
    [InlineData("ProbeRunner.Records")]
    public void The_public_surface_is_the_reviewed_one(string library)
    {
        var shown = Assembly.Load(library).GeneratePublicApi(Plain).ReplaceLineEndings("\n") + "\n";
        var file = Path.Combine(SourceTree.Root, "tests", "ProbeRunner.EndToEnd.Tests", "Architecture", "Surfaces", library + ".txt");
        if (Environment.GetEnvironmentVariable(RefreshSwitch) == "1")
        {
            Directory.CreateDirectory(Path.GetDirectoryName(file)!);
            File.WriteAllText(file, shown);
        }

        Assert.True(File.Exists(file), $"There is no reviewed surface of {library}; write it with {RefreshSwitch}=1 and look at it.");
        Assert.Equal(File.ReadAllText(file), shown);
    }
}
