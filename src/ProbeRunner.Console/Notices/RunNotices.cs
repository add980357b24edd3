using ProbeRunner.Console.Narration;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Events;

namespace ProbeRunner.Console.Notices;

/// <summary>Tells somebody who is not there when a run ends, stops, or waits for an answer for long.</summary>
/// <param name="sender">Sends.</param>
/// <param name="run">The run.</param>
/// <param name="machine">Its machine.</param>
/// <param name="time">The wall clock.</param>
internal sealed class RunNotices(NoticeSender sender, string run, string machine, TimeProvider time) : IRunListener, IDisposable
{
    /// <summary>A question that a person at the machine answers sooner needs no notice.</summary>
    internal static readonly TimeSpan Patience = TimeSpan.FromMinutes(1);

    private readonly List<Task> sending = [];
    private CancellationTokenSource? waiting;

    /// <inheritdoc />
    public void On(RunEvent runEvent)
    {
        switch (runEvent)
        {
            case PromptAsked asked:
                Answered();
                waiting = new CancellationTokenSource();
                sending.Add(TellIfUnansweredAsync(asked.Prompt.Text, waiting.Token));
                break;
            case AnswerGiven or RunEnded:
                Answered();
                break;
        }
    }

    /// <summary>The run has ended; ends when that was told, or could not be told in time.</summary>
    public async Task EndAsync(RunOutcome outcome)
    {
        Answered();
        await Task.WhenAll([.. sending, sender.SendAsync(Notice.OfEnd(run, machine, outcome, time.GetUtcNow()))]);
    }

    /// <inheritdoc />
    public void Dispose() => waiting?.Dispose();

    private void Answered() => waiting?.Cancel();

    private async Task TellIfUnansweredAsync(string question, CancellationToken answered)
    {
        try
        {
            await Task.Delay(Patience, time, answered);
            await sender.SendAsync(new Notice("needs-person", run, machine, "running", null, question, "", time.GetUtcNow()));
        }
        catch (OperationCanceledException)
        {
            // It was answered.
        }
    }
}
