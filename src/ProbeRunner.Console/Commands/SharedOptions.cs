using System.Collections.Immutable;
using System.CommandLine;

namespace ProbeRunner.Console.Commands;

/// <summary>Options that several commands have, made anew for each, so that every command explains them alike.</summary>
internal static class SharedOptions
{
    /// <summary>The store's file.</summary>
    public static Option<string?> Store() => new("--store") { Description = "The file runs are kept in; a file in your data folder unless given.", HelpName = "FILE" };

    /// <summary>The port.</summary>
    public static Option<string?> Port() => new("--port")
    {
        Description = "Where the controller is: a device such as /dev/ttyUSB0 or COM3, or tcp://host:port. See the ports command.",
        HelpName = "P",
    };

    /// <summary>The serial speed.</summary>
    public static Option<int?> Baud() => new("--baud") { Description = "Serial speed; the machine profile's unless given.", HelpName = "N" };

    /// <summary>Answers from a file.</summary>
    public static Option<string?> Answers() => new("--answers") { Description = "A file that answers the prompts instead of a person.", HelpName = "FILE" };

    /// <summary>Machine-readable output.</summary>
    public static Option<bool> Json() => new("--json") { Description = "Print one JSON object a line instead of text." };

    /// <summary>A simulated person's senses.</summary>
    public static Option<string?> Senses() => new("--senses")
    {
        Description = "With the simulated printer as a program of its own: its senses channel; a simulated person then answers the prompts.",
        HelpName = "PATH",
    };

    /// <summary>How fast the simulated printer goes.</summary>
    /// <param name="usual">What holds when it is not given, in words.</param>
    public static Option<double?> Speed(string usual) => new("--speed")
    {
        Description = $"How many times faster than real the simulated printer goes, 1 to 1000; {usual}.",
        HelpName = "F",
    };

    /// <summary>Seed of the simulated printer.</summary>
    public static Option<ulong?> Seed() => new("--seed") { Description = "Makes a simulated run repeatable: seed of the printer's noise and of the run's own chance.", HelpName = "N" };

    /// <summary>Step parameters.</summary>
    public static Option<string[]> Set() => new("--set")
    {
        Description = "Set a step's parameter: STEP.KEY=VALUE; may be given more than once.",
        HelpName = "KEY=VALUE",
        AllowMultipleArgumentsPerToken = false,
    };

    /// <summary>Where the report goes.</summary>
    public static Option<string?> Out() => new("--out") { Description = "Folder the report is written to; the present one unless given.", HelpName = "DIR" };

    /// <summary>Reads <c>KEY=VALUE</c> pairs.</summary>
    /// <exception cref="UsageException">One of them is not a pair, or a key is given twice.</exception>
    public static ImmutableDictionary<string, string> Pairs(IEnumerable<string> given)
    {
        var pairs = ImmutableDictionary.CreateBuilder<string, string>(StringComparer.Ordinal);
        foreach (var pair in given)
        {
            var at = pair.IndexOf('=', StringComparison.Ordinal);
            if (at < 1)
            {
                throw new UsageException($"--set takes KEY=VALUE, for example series.cap=20; not \"{pair}\".");
            }

            if (!pairs.TryAdd(pair[..at].Trim(), pair[(at + 1)..].Trim()))
            {
                throw new UsageException($"--set gives {pair[..at]} twice.");
            }
        }

        return pairs.ToImmutable();
    }

    /// <summary>Checks the simulated speed.</summary>
    /// <returns>What was given; null when nothing was.</returns>
    /// <exception cref="UsageException">It is out of range.</exception>
    public static double? CheckedSpeed(double? speed) =>
        speed is null or (>= 1 and <= 1000) ? speed : throw new UsageException("--speed takes a number from 1 to 1000.");
}
