using System.CommandLine;
using ProbeRunner.Console.Following;
using ProbeRunner.Records.Store;

namespace ProbeRunner.Console.Commands;

/// <summary>Commands to a run that another process works on: <c>watch</c> and <c>stop</c>. They open no port.</summary>
internal static class FollowCommands
{
    private static readonly TimeSpan SeenWithin = TimeSpan.FromSeconds(10);
    private static readonly TimeSpan Between = TimeSpan.FromMilliseconds(100);

    /// <summary><c>watch</c>: follows a run.</summary>
    public static Command Watch(ProgramContext context)
    {
        var (run, store, json) = (RunArgument(), SharedOptions.Store(), SharedOptions.Json());
        var command = new Command("watch", "Follow a run that is being worked on, from another terminal or over ssh. Ctrl-C ends the watching, not the run.") { run, store, json };
        command.SetAction((parsed, cancel) =>
            new RunFollower(context, Open(context, parsed.GetValue(store)), parsed.GetValue(run)!, parsed.GetValue(json)).FollowAsync(cancel));
        return command;
    }

    /// <summary><c>stop</c>: asks a run to stop.</summary>
    public static Command Stop(ProgramContext context)
    {
        var (run, store) = (RunArgument(), SharedOptions.Store());
        var command = new Command("stop", "Ask a run that is being worked on to stop in order: it finishes the motion in hand, lifts, parks, and heaters go off.") { run, store };
        command.SetAction((parsed, cancel) => StopAsync(context, Open(context, parsed.GetValue(store)), parsed.GetValue(run)!, cancel));
        return command;
    }

    private static async Task<int> StopAsync(ProgramContext context, RunStore store, string runId, CancellationToken cancel)
    {
        StopRequests.Ask(store, runId);
        var began = context.Time.GetTimestamp();
        while (StopRequests.IsWaiting(store, runId) && context.Time.GetElapsedTime(began) < SeenWithin)
        {
            await Task.Delay(Between, context.Time, cancel);
        }

        if (StopRequests.Take(store, runId))
        {
            context.Error.WriteLine($"Run {runId} did not react within {SeenWithin.TotalSeconds:0} s, so it was not stopped. If the machine moves or heats and should not, switch off at the mains.");
            return ExitCodes.MachineFailed;
        }

        context.Output.WriteLine($"Run {runId} is stopping: the motion in hand is finished, then lift, park, heaters off. Follow it with: proberunner watch {runId}");
        return ExitCodes.Fit;
    }

    private static RunStore Open(ProgramContext context, string? store) => RunStore.OpenExisting(store ?? StoreLocation.Default(context.Environment));

    private static Argument<string> RunArgument() => new("RUN") { Description = "The run's id. See the runs command." };
}
