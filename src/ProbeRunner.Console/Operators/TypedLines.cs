using System.Threading.Channels;
using ProbeRunner.Procedures.Engine;

namespace ProbeRunner.Console.Operators;

/// <summary>
/// Lines typed or piped in, read as they come by one reader: a nudge is passed on at once, everything else waits for the question that
/// takes it. A question that is given up leaves the next line to the next question.
/// </summary>
/// <param name="input">Where they are typed.</param>
/// <param name="nudgeIn">The nudge that a line asks for; null when it asks for none.</param>
/// <param name="errors">Where the person is told why a nudge was not taken.</param>
internal sealed class TypedLines(TextReader input, Func<string, NudgeDirection?> nudgeIn, TextWriter errors)
{
    private const int MostWaiting = 10_000;

    private readonly Channel<string> lines = Channel.CreateBounded<string>(new BoundedChannelOptions(MostWaiting) { SingleWriter = true });
    private RunControl? control;
    private int started;

    /// <summary>Begins to read; nudges go to the run.</summary>
    public void Attach(RunControl runControl)
    {
        control = runControl;
        Start();
    }

    /// <summary>The next line that is no nudge; null once the input has ended.</summary>
    public async Task<string?> NextAsync(CancellationToken cancel)
    {
        Start();
        return await lines.Reader.WaitToReadAsync(cancel) && lines.Reader.TryRead(out var line) ? line : null;
    }

    private void Start()
    {
        if (Interlocked.Exchange(ref started, 1) == 0)
        {
            // A blocked read of a terminal cannot be cancelled: a thread of its own, which ends with the process.
            new Thread(Read) { IsBackground = true, Name = "typed lines" }.Start();
        }
    }

    private void Read()
    {
        try
        {
            while (input.ReadLine() is { } line)
            {
                if (nudgeIn(line) is { } direction && control is { } run)
                {
                    Tell(run.Nudge(direction));
                }
                else if (!lines.Writer.TryWrite(line))
                {
                    break;
                }
            }
        }
        catch (Exception failure) when (failure is IOException or ObjectDisposedException)
        {
            // The terminal is gone; whoever asks learns it by the end of the lines.
        }

        lines.Writer.TryComplete();
    }

    private void Tell(NudgeReply reply)
    {
        if (Why(reply) is { } why)
        {
            errors.WriteLine($"Not nudged: {why}");
        }
    }

    private static string? Why(NudgeReply reply) => reply switch
    {
        NudgeReply.NotLaying => "nothing is being laid now.",
        NudgeReply.OneAtATime => "the last one is still to come; one between two lines.",
        NudgeReply.AtTheLimit => "0.2 mm in all is the most. Measure the offset again.",
        _ => null,
    };
}
