using System.CommandLine;
using ProbeRunner.Console.Analyse;
using ProbeRunner.Console.Guardian;

namespace ProbeRunner.Console.Commands;

/// <summary>The command line as a whole: parses, runs, and turns what went wrong into a sentence and an exit code.</summary>
internal static class CommandTree
{
    /// <summary>Runs one command line.</summary>
    /// <returns>One of <see cref="ExitCodes"/>.</returns>
    public static async Task<int> RunAsync(string[] arguments, ProgramContext context)
    {
        var root = Root(context);
        if (arguments.Length == 0 && !ScreensCommand.HasTerminal(context))
        {
            context.Error.WriteLine($"proberunner: {ScreensCommand.NoTerminal} These are the commands:");
            arguments = ["--help"];
        }

        var parsed = root.Parse(arguments);
        if (parsed.Errors.Count > 0)
        {
            foreach (var error in parsed.Errors)
            {
                context.Error.WriteLine($"proberunner: {error.Message}");
            }

            context.Error.WriteLine("proberunner: --help after a command shows how it is used.");
            return ExitCodes.BadInput;
        }

        try
        {
            var settings = new InvocationConfiguration
            {
                Output = context.Output,
                Error = context.Error,
                EnableDefaultExceptionHandler = false,
                ProcessTerminationTimeout = null,
            };
            return await parsed.InvokeAsync(settings);
        }
        catch (Exception failure) when (Failures.Explain(failure) is { } explained)
        {
            context.Error.WriteLine($"proberunner: {explained.Message}");
            return explained.ExitCode;
        }
    }

    private static RootCommand Root(ProgramContext context)
    {
        var root = new RootCommand(
            """
            Takes a filament printer with a bed probe from "the wiring is in" to "every first layer sticks", and says why.
            Without a command it opens the bench screens; everything they do can be done by the commands below too.

            Examples:
              proberunner
              proberunner demo
              proberunner ports
              proberunner run commission --machine wren-240 --port /dev/ttyUSB0
              proberunner resume 20261125-1402-k3v --port /dev/ttyUSB0
              proberunner analyse series readings.csv --good-sigma 0.005 --bad-sigma 0.010

            Exit codes: 0 done and fit; 1 not fit or undecided; 2 wrong use or bad input, nothing moved;
            3 machine or link failed, resumable; 4 stopped by the operator; 5 internal error.
            """)
        {
            DemoCommand.Create(context),
            RunCommand.Create(context),
            ResumeCommand.Create(context),
            RestoreCommand.Create(context),
            PatternCommand.Create(context),
            FollowCommands.Watch(context),
            FollowCommands.Stop(context),
            RecordCommands.Runs(context),
            RecordCommands.Show(context),
            CompareCommand.Create(context),
            TrendCommand.Create(context),
            RecordCommands.Report(context),
            RecordCommands.Export(context),
            ImportCommand.Create(context),
            AnalyseCommand.Create(() => context.Input),
            PortsCommand.Create(context),
            CatalogueCommands.Machines(context),
            CatalogueCommands.Scripts(context),
            CheckCommand.Create(context),
            CompletionCommand.Create(context),
            GuardianCommand.Create(context),
        };
        ScreensCommand.AddTo(root, context);
        return root;
    }
}
