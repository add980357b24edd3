using ProbeRunner.Console.Commands;
using ProbeRunner.Console.Narration;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Events;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Records.Store;

namespace ProbeRunner.Console.Following;

/// <summary>Follows a run by its record, from another terminal or another computer's: it can neither block nor change it.</summary>
internal sealed class RunFollower(ProgramContext context, RunStore store, string runId, bool json)
{
    private static readonly TimeSpan Between = TimeSpan.FromMilliseconds(500);

    private readonly JsonNarrator? jsonNarrator = json ? new JsonNarrator(context.Output) : null;
    private long last;
    private FollowedEvents? events;
    private RunOutcome? outcome;

    /// <summary>Tells what is there, then what comes, until nobody works on the run any more.</summary>
    /// <returns>The exit code of the run; of a failed one when it was cut off.</returns>
    public async Task<int> FollowAsync(CancellationToken cancel)
    {
        IRunListener listener = jsonNarrator is not null ? jsonNarrator : new PlainNarrator(context.Output, context.Error, 1, asksPerson: false);
        while (true)
        {
            var news = store.ReadAfter(runId, last);
            events ??= new FollowedEvents(news.Header);
            foreach (var entry in news.Entries)
            {
                Tell(listener, events, entry);
            }

            if (!news.IsRunning)
            {
                return End(listener);
            }

            try
            {
                await Task.Delay(Between, context.Time, cancel);
            }
            catch (OperationCanceledException)
            {
                return ExitCodes.Fit; // the watching was ended, not the run
            }
        }
    }

    private void Tell(IRunListener listener, FollowedEvents followed, JournalEntry entry)
    {
        last = entry.Ordinal;
        outcome = entry.Kind == EntryKind.RunEnded ? JournalJson.Read<RunOutcome>(entry.Reply) : null;
        foreach (var told in followed.Of(entry))
        {
            listener.On(told);
        }

        if (outcome is not null)
        {
            listener.On(new RunEnded(entry.At, outcome));
        }
    }

    private int End(IRunListener listener)
    {
        if (outcome is null)
        {
            listener.On(new Warned(TimeSpan.Zero, "", $"Nobody works on run {runId}: it was cut off. When the machine is well again: proberunner resume {runId}"));
            return ExitCodes.MachineFailed;
        }

        var exitCode = ExitCodes.Of(outcome);
        jsonNarrator?.TellEnd(outcome, exitCode, report: null);
        return exitCode;
    }
}
