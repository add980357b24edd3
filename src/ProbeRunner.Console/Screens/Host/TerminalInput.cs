using System.Runtime.InteropServices;

namespace ProbeRunner.Console.Screens.Host;

/// <summary>How the terminal's input stands.</summary>
internal enum TerminalInputState
{
    /// <summary>There is nothing to read.</summary>
    Quiet,

    /// <summary>There is something to read.</summary>
    Ready,

    /// <summary>The terminal has hung up.</summary>
    Gone,
}

/// <summary>The terminal's input by the system's own calls (POSIX.1-2024, poll and read).</summary>
internal static partial class TerminalInput
{
    private const int Descriptor = 0;
    private const short Readable = 0x01;
    private const short Error = 0x08;
    private const short HungUp = 0x10;
    private const short Invalid = 0x20;

    /// <summary>Waits until there is something to read or the terminal has gone, at most a while.</summary>
    public static TerminalInputState Wait(TimeSpan atMost)
    {
        var polled = new Polled { Descriptor = Descriptor, Wanted = Readable };
        if (Poll(ref polled, 1, (int)atMost.TotalMilliseconds) <= 0)
        {
            return TerminalInputState.Quiet;
        }

        return (polled.Found & (Error | HungUp | Invalid)) != 0 ? TerminalInputState.Gone : TerminalInputState.Ready;
    }

    /// <summary>Reads what is there.</summary>
    /// <returns>How many bytes; 0 or less when the terminal has gone.</returns>
    public static int Read(Span<byte> bytes) => (int)Read(Descriptor, bytes, (nuint)bytes.Length);

    [LibraryImport("libc", EntryPoint = "poll")]
    private static partial int Poll(ref Polled descriptors, nuint count, int milliseconds);

    [LibraryImport("libc", EntryPoint = "read")]
    private static partial nint Read(int descriptor, Span<byte> bytes, nuint count);

    [StructLayout(LayoutKind.Sequential)]
    private struct Polled
    {
        public int Descriptor;
        public short Wanted;
        public short Found;
    }
}
