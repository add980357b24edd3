using System.Collections.Concurrent;
using System.Text;
using Terminal.Gui.Drivers;

namespace ProbeRunner.Console.Screens.Host;

/// <summary>
/// The terminal's input, read by ourselves on a thread of its own: with a watch for the keys that stop and halt before anything else sees
/// them, asleep while there is nothing, and ended when the terminal has hung up. The library still sets the terminal up and understands
/// the characters, on the screens' thread.
/// </summary>
/// <param name="watch">Sees every character first.</param>
/// <param name="came">Called when there are new characters.</param>
/// <param name="hungUp">Called once when the terminal has gone.</param>
/// <param name="descriptor">The terminal's descriptor.</param>
internal sealed class WatchedInput(SafetyKeyWatch watch, Action came, Action hungUp, int descriptor = TerminalInput.Standard) : AnsiInput, IInput<char>
{
    /// <summary>So soon is it noticed that the screens end.</summary>
    private static readonly TimeSpan LongestSleep = TimeSpan.FromMilliseconds(200);

    private ConcurrentQueue<char> typed = new();
    private bool isGone;

    /// <inheritdoc cref="IInput{T}.Initialize" />
    public new void Initialize(ConcurrentQueue<char> inputQueue)
    {
        typed = inputQueue;
        base.Initialize(inputQueue);
    }

    /// <inheritdoc cref="IInput{T}.Run" />
    public new void Run(CancellationToken runCancellationToken)
    {
        var decoder = Encoding.UTF8.GetDecoder();
        var bytes = new byte[1024];
        var characters = new char[1024];
        while (!runCancellationToken.IsCancellationRequested)
        {
            var state = TerminalInput.Wait(descriptor, LongestSleep);
            if (state == TerminalInputState.Quiet)
            {
                continue;
            }

            var count = state == TerminalInputState.Gone ? 0 : TerminalInput.Read(descriptor, bytes);
            if (count < 0)
            {
                continue;
            }

            if (count == 0)
            {
                isGone = true;
                hungUp();
                runCancellationToken.WaitHandle.WaitOne();
                return;
            }

            var decoded = decoder.GetChars(bytes, 0, count, characters, 0);
            for (var at = 0; at < decoded; at++)
            {
                watch.Take(characters[at]);
                typed.Enqueue(characters[at]);
            }

            came();
        }
    }

    /// <inheritdoc />
    public override void Dispose()
    {
        // The library's way out first reads away what is waiting, and from a terminal that has gone there is no end of that.
        if (!isGone)
        {
            base.Dispose();
        }
    }
}
