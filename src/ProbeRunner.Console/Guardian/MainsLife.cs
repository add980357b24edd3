using System.Text;
using System.Threading.Channels;

namespace ProbeRunner.Console.Guardian;

/// <summary>What became of the main process, as far as the guardian can tell.</summary>
internal enum MainsFate
{
    /// <summary>It gave a sign of life.</summary>
    Alive,

    /// <summary>It told that the run has ended and the heaters are off.</summary>
    Ended,

    /// <summary>It ended the run, but could not get the controller to confirm that the heaters are off.</summary>
    NotConfirmed,

    /// <summary>It is gone.</summary>
    Gone,

    /// <summary>It gave no sign of life for too long.</summary>
    Silent,
}

/// <summary>Listens to the main process; its death is the end of what it says.</summary>
internal sealed class MainsLife
{
    private readonly Channel<MainsFate> heard = Channel.CreateUnbounded<MainsFate>(new UnboundedChannelOptions { SingleReader = true, SingleWriter = true });
    private readonly TaskCompletionSource<string> plan = new(TaskCreationOptions.RunContinuationsAsynchronously);

    /// <summary>Listens from now on, on a thread of its own: nothing else can hold it up.</summary>
    public MainsLife(Stream told) => new Thread(() => Listen(told)) { IsBackground = true, Name = "main's life" }.Start();

    /// <summary>The first line; fails when there is none.</summary>
    public Task<string> Plan => plan.Task;

    /// <summary>Waits for the next sign.</summary>
    public async Task<MainsFate> NextAsync(TimeSpan within, TimeProvider time)
    {
        using var deadline = new CancellationTokenSource(within, time);
        try
        {
            return await heard.Reader.ReadAsync(deadline.Token);
        }
        catch (OperationCanceledException)
        {
            return MainsFate.Silent;
        }
    }

    private void Listen(Stream told)
    {
        var first = new List<byte>();
        var buffer = new byte[4096];
        var isPlanned = false;
        while (ReadSome(told, buffer) is > 0 and var count)
        {
            foreach (var sign in buffer.AsSpan(0, count))
            {
                if (isPlanned)
                {
                    heard.Writer.TryWrite(FateOf(sign));
                }
                else if (sign == (byte)'\n')
                {
                    isPlanned = plan.TrySetResult(Encoding.UTF8.GetString([.. first]));
                }
                else
                {
                    first.Add(sign);
                }
            }
        }

        plan.TrySetException(new EndOfStreamException("Nobody told the guardian what to do."));
        heard.Writer.TryWrite(MainsFate.Gone);
    }

    private static MainsFate FateOf(byte sign) => sign switch
    {
        GuardianSigns.Ended => MainsFate.Ended,
        GuardianSigns.NotConfirmed => MainsFate.NotConfirmed,
        _ => MainsFate.Alive,
    };

    private static int ReadSome(Stream told, byte[] buffer)
    {
        try
        {
            return told.Read(buffer);
        }
        catch (IOException)
        {
            return 0;
        }
    }
}
