using System.Text.RegularExpressions;

namespace ProbeRunner.EndToEnd.Tests.Architecture;

/// <summary>The controller's own words live in dialect files, the simulator and the tests, nowhere else.</summary>
public sealed partial class WireWordsTests
{
    [Fact]
    public void No_source_of_the_program_speaks_the_controllers_language()
    {
        var offences = SourceTree.Sources("src")
            .SelectMany(file => File.ReadLines(file).Select((line, index) => (file, line, number: index + 1)))
            .Where(at => WireWord().IsMatch(at.line))
            .Select(at => $"{Path.GetRelativePath(SourceTree.Root, at.file)}:{at.number}: {at.line.Trim()}");

        Assert.Empty(offences);
    }

    [Theory]
    [InlineData("var line = \"G28 Z\";")]
    [InlineData("send M112 now")]
    [InlineData("// asks M114")]
    public void The_rule_sees_a_wire_word(string line) => Assert.Matches(WireWord(), line);

    // One-digit M words are also the names of metric threads; G6, G9 and G17 are number formats.
    [GeneratedRegex(@"\b(?!G(?:6|9|17)\b)(?:G[0-9]{1,3}|M[0-9]{2,3})\b")]
    private static partial Regex WireWord();
}
