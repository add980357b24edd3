using System.Runtime.InteropServices;

namespace ProbeRunner.Transport.Posix;

/// <summary>Settings of a terminal device on Linux, by the kernel's own interface, which takes any bit rate.</summary>
internal static unsafe class Terminal
{
    public const nuint Flush = 0x540B;
    public const nint FlushInput = 0;
    public const nint FlushOutput = 1;
    public const nint FlushBoth = 2;

    private const nuint GetSettings = 0x802C542A;
    private const nuint SetSettings = 0x402C542B;
    private const nuint SetExclusive = 0x540C;
    private const nuint RaiseLines = 0x5416;
    private const nuint LowerLines = 0x5417;
    private const int DataTerminalReady = 2;
    private const int RequestToSend = 4;

    private const uint RateBits = 0x100F;
    private const uint RateByNumber = 0x1000;
    private const uint InputRateBits = RateBits << 16;
    private const uint EightBits = 0x30;
    private const uint SizeBits = 0x30;
    private const uint TwoStopBits = 0x40;
    private const uint EnableReceiver = 0x80;
    private const uint Parity = 0x100;
    private const uint HangUpOnClose = 0x400;
    private const uint IgnoreModemLines = 0x800;
    private const uint HardwareFlow = 0x80000000;
    private const int MinimumBytes = 6;
    private const int Timeout = 5;

    /// <summary>Raw bytes, eight bits, no parity, one stop bit, no flow control, at the given rate; stale bytes are thrown away.</summary>
    /// <param name="descriptor">An open terminal device.</param>
    /// <param name="baud">Bits per second.</param>
    /// <param name="hangUpOnClose">Whether the control lines fall when it is closed.</param>
    /// <returns>0, or the error number.</returns>
    public static int Configure(int descriptor, int baud, bool hangUpOnClose)
    {
        Settings settings;
        if (Libc.Control(descriptor, GetSettings, &settings) != 0)
        {
            return Libc.LastError;
        }

        settings.Input = 0;
        settings.Output = 0;
        settings.Local = 0;
        settings.Control &= ~(RateBits | InputRateBits | SizeBits | TwoStopBits | Parity | HangUpOnClose | HardwareFlow);
        settings.Control |= RateByNumber | EightBits | EnableReceiver | IgnoreModemLines | (hangUpOnClose ? HangUpOnClose : 0);
        settings.InputSpeed = (uint)baud;
        settings.OutputSpeed = (uint)baud;
        settings.Characters[MinimumBytes] = 1;
        settings.Characters[Timeout] = 0;
        if (Libc.Control(descriptor, SetSettings, &settings) != 0)
        {
            return Libc.LastError;
        }

        _ = Libc.Control(descriptor, Flush, FlushBoth);
        return 0;
    }

    /// <summary>Keeps others from opening the device; the superuser is not kept.</summary>
    public static void MakeExclusive(int descriptor) => _ = Libc.Control(descriptor, SetExclusive, 0);

    /// <summary>Raises or lowers both control lines; a device without them ignores it.</summary>
    public static void SetControlLines(int descriptor, bool raised)
    {
        int lines = DataTerminalReady | RequestToSend;
        _ = Libc.Control(descriptor, raised ? RaiseLines : LowerLines, &lines);
    }

    /// <summary>The kernel's layout on most processors (not on PowerPC, MIPS or SPARC).</summary>
    [StructLayout(LayoutKind.Sequential)]
    private struct Settings
    {
        public uint Input;
        public uint Output;
        public uint Control;
        public uint Local;
        public byte Discipline;
        public fixed byte Characters[19];
        public uint InputSpeed;
        public uint OutputSpeed;
    }
}
