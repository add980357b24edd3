using ProbeRunner.Console.Commands;

namespace ProbeRunner.Console.Tests.Commands;

/// <summary>The bench screens are asked for where they cannot be shown.</summary>
public sealed class NoTerminalTests
{
    [Fact]
    public async Task Without_a_command_it_is_said_and_the_commands_are_listed()
    {
        var (exitCode, output, errors) = await RunAsync();

        Assert.Equal(0, exitCode);
        Assert.Contains("need a terminal", errors, StringComparison.Ordinal);
        Assert.Contains("resume", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Asked_for_with_options_they_are_refused()
    {
        var (exitCode, output, errors) = await RunAsync("--color", "never");

        Assert.Equal(2, exitCode);
        Assert.Empty(output);
        Assert.Contains("\"proberunner --help\" lists the commands", errors, StringComparison.Ordinal);
    }

    private static async Task<(int ExitCode, string Output, string Errors)> RunAsync(params string[] arguments)
    {
        using StringWriter output = new(), errors = new();
        var context = new ProgramContext(output, errors, TextReader.Null, TimeProvider.System, _ => null, AppContext.BaseDirectory, InputIsTerminal: false);
        return (await CommandTree.RunAsync(arguments, context), output.ToString(), errors.ToString());
    }
}
