using System.Runtime.InteropServices;
using ProbeRunner.Console.Commands;
using ProbeRunner.Console.Screens.Host;
using ProbeRunner.Console.Screens.Running;
using ProbeRunner.Console.Screens.Shell;
using ProbeRunner.Records.Store;

namespace ProbeRunner.Console.Screens;

/// <summary>The bench screens as a program: from an empty terminal to the same terminal again.</summary>
internal static class ScreensProgram
{
    private const string TerminalClosed = "The terminal of the bench screens was closed or the program was asked to end.";

    /// <summary>How long a run may take for its way out after the terminal has gone; its own deadlines are shorter.</summary>
    private static readonly TimeSpan WayOut = TimeSpan.FromMinutes(5);

    /// <summary>How long the screens may take to close once nothing is under way.</summary>
    private static readonly TimeSpan ScreensMayTake = TimeSpan.FromSeconds(5);

    /// <summary>Shows the screens until the person leaves.</summary>
    /// <returns>One of <see cref="ExitCodes"/>.</returns>
    public static async Task<int> RunAsync(ProgramContext context, ScreenOptions options)
    {
        Workshop? workshop = null;
        var host = new TerminalHost(options, context.Time, () => workshop?.Live);
        var desk = new Desk(context.Time, ColourPolicy.For(options, context.Environment));
        workshop = new Workshop(context, desk, host.Post, options.Store ?? StoreLocation.Default(context.Environment), options.SimulatedSpeed);
        void Leave()
        {
            workshop.Live?.Abandon(TerminalClosed);
            host.End();
            _ = EndAsync(workshop.Live, context.Time);
        }

        host.HungUp += Leave;
        var signals = Signals(Leave);
        try
        {
            workshop.LookAgain();
            var failure = host.Show(desk);
            return await LeaveAsync(workshop.Live, failure, context);
        }
        finally
        {
            signals.ForEach(signal => signal.Dispose());
        }
    }

    /// <summary>The terminal is as it was; a run that is still under way stops safely before the program ends.</summary>
    private static async Task<int> LeaveAsync(LiveRun? live, Exception? failure, ProgramContext context)
    {
        if (live is { IsUnderWay: true })
        {
            live.Abandon(TerminalClosed);
            Say(context, "Stopping the run: the motion in hand is finished, then lift, park, heaters off. If anything still moves or heats, switch off at the mains.");
            await Task.WhenAny(live.Completion, Task.Delay(WayOut, context.Time));
        }

        if (live?.Ended is { } ended)
        {
            Say(context, $"Run {ended.RunId} is kept in {ended.Store}{(ended.ExitCode is ExitCodes.MachineFailed or ExitCodes.StoppedByOperator ? $"; take it up again with: proberunner resume {ended.RunId}" : string.Empty)}");
        }

        if (failure is not null)
        {
            Say(context, $"The screens broke and were closed; the terminal is as it was. Please report this:{Environment.NewLine}{failure}");
            return ExitCodes.InternalError;
        }

        return live is { IsUnderWay: true } ? ExitCodes.MachineFailed : ExitCodes.Fit;
    }

    /// <summary>
    /// Ends the program when its screens can't: the library reads a terminal that has hung up for ever. The run has its way out first.
    /// </summary>
    private static async Task EndAsync(LiveRun? live, TimeProvider time)
    {
        if (live is not null)
        {
            await Task.WhenAny(live.Completion, Task.Delay(WayOut, time));
        }

        await Task.Delay(ScreensMayTake, time);
        Environment.Exit(ExitCodes.StoppedByOperator);
    }

    private static void Say(ProgramContext context, string text)
    {
        try
        {
            context.Error.WriteLine(text);
        }
        catch (IOException)
        {
            // The terminal is gone.
        }
    }

    private static List<PosixSignalRegistration> Signals(Action leave) =>
    [
        .. new[] { PosixSignal.SIGTERM, PosixSignal.SIGHUP, PosixSignal.SIGINT, PosixSignal.SIGQUIT }.Select(signal => PosixSignalRegistration.Create(signal, caught =>
        {
            caught.Cancel = true;
            leave();
        })),
    ];
}
