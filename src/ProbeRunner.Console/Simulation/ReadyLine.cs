using System.Text.RegularExpressions;

namespace ProbeRunner.Console.Simulation;

/// <summary>What the simulated printer says when it serves.</summary>
/// <param name="Port">The port to open.</param>
/// <param name="Senses">Where its senses are asked.</param>
internal sealed partial record ReadyLine(string Port, string Senses)
{
    /// <summary>Reads the line.</summary>
    /// <exception cref="SimulatorFailedException">It is another line.</exception>
    public static ReadyLine Parse(string line)
    {
        var match = Shape().Match(line);
        return match.Success
            ? new ReadyLine(match.Groups["port"].Value, match.Groups["senses"].Value)
            : throw new SimulatorFailedException($"The simulated printer did not say that it is ready but: {line}");
    }

    [GeneratedRegex(@"^ready port=(?<port>.+?) senses=(?<senses>.+?) scenario=", RegexOptions.CultureInvariant)]
    private static partial Regex Shape();
}
