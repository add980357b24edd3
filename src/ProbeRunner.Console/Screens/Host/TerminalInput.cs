using System.Runtime.InteropServices;

namespace ProbeRunner.Console.Screens.Host;

/// <summary>How the terminal's input stands.</summary>
internal enum TerminalInputState
{
    /// <summary>There is nothing to read.</summary>
    Quiet,

    /// <summary>There is something to read; if it reads as empty, the terminal has hung up.</summary>
    Ready,

    /// <summary>The terminal has hung up.</summary>
    Gone,
}

/// <summary>The terminal's input by the system's own calls (POSIX.1-2024, poll and read).</summary>
internal static partial class TerminalInput
{
    /// <summary>The descriptor of the standard input.</summary>
    public const int Standard = 0;

    private const short Readable = 0x01;
    private const int Interrupted = 4;

    /// <summary>Waits until there is something to read or the terminal has gone, at most a while.</summary>
    public static TerminalInputState Wait(int descriptor, TimeSpan atMost)
    {
        var polled = new Polled { Descriptor = descriptor, Wanted = Readable };
        if (Poll(ref polled, 1, (int)atMost.TotalMilliseconds) <= 0)
        {
            return TerminalInputState.Quiet;
        }

        return (polled.Found & Readable) != 0 ? TerminalInputState.Ready : TerminalInputState.Gone;
    }

    /// <summary>Reads what is there.</summary>
    /// <returns>How many bytes; 0 when the terminal has gone, negative when a signal came between and it is to be asked again.</returns>
    public static int Read(int descriptor, Span<byte> bytes)
    {
        var count = (int)Read(descriptor, bytes, (nuint)bytes.Length);
        return count >= 0 || Marshal.GetLastPInvokeError() is Interrupted ? count : 0;
    }

    [LibraryImport("libc", EntryPoint = "poll")]
    private static partial int Poll(ref Polled descriptors, nuint count, int milliseconds);

    [LibraryImport("libc", EntryPoint = "read", SetLastError = true)]
    private static partial nint Read(int descriptor, Span<byte> bytes, nuint count);

    [StructLayout(LayoutKind.Sequential)]
    private struct Polled
    {
        public int Descriptor;
        public short Wanted;
        public short Found;
    }
}
