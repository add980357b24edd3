using System.Runtime.InteropServices;

namespace ProbeRunner.Transport.Posix;

/// <summary>The calls of the C library that links and pseudo-terminals need. Constants are those of Linux.</summary>
internal static partial class Libc
{
    public const int ReadWrite = 2;
    public const int Create = 0x40;
    public const int NoControllingTerminal = 0x100;
    public const int NonBlocking = 0x800;
    public const int CloseOnExec = 0x80000;

    public const int GetStatus = 3;
    public const int SetStatus = 4;

    public const int SignalKill = 9;

    public const int LockExclusive = 2;
    public const int LockNonBlocking = 4;

    public const short PollIn = 1;
    public const short PollOut = 4;
    public const short PollError = 8;
    public const short PollHangUp = 16;

    [LibraryImport("libc", EntryPoint = "open", SetLastError = true, StringMarshalling = StringMarshalling.Utf8)]
    public static partial int Open(string path, int flags, int mode);

    [LibraryImport("libc", EntryPoint = "close", SetLastError = true)]
    public static partial int Close(int descriptor);

    [LibraryImport("libc", EntryPoint = "read", SetLastError = true)]
    public static unsafe partial nint Read(int descriptor, byte* buffer, nuint count);

    [LibraryImport("libc", EntryPoint = "write", SetLastError = true)]
    public static unsafe partial nint Write(int descriptor, byte* buffer, nuint count);

    [LibraryImport("libc", EntryPoint = "poll", SetLastError = true)]
    public static unsafe partial int Poll(PollEntry* entries, nuint count, int timeoutMilliseconds);

    [LibraryImport("libc", EntryPoint = "pipe2", SetLastError = true)]
    public static unsafe partial int Pipe(int* ends, int flags);

    [LibraryImport("libc", EntryPoint = "flock", SetLastError = true)]
    public static partial int Lock(int descriptor, int operation);

    [LibraryImport("libc", EntryPoint = "ioctl", SetLastError = true)]
    public static unsafe partial int Control(int descriptor, nuint request, void* argument);

    [LibraryImport("libc", EntryPoint = "ioctl", SetLastError = true)]
    public static partial int Control(int descriptor, nuint request, nint argument);

    [LibraryImport("libc", EntryPoint = "posix_openpt", SetLastError = true)]
    public static partial int OpenPseudoTerminal(int flags);

    [LibraryImport("libc", EntryPoint = "grantpt", SetLastError = true)]
    public static partial int GrantPseudoTerminal(int descriptor);

    [LibraryImport("libc", EntryPoint = "unlockpt", SetLastError = true)]
    public static partial int UnlockPseudoTerminal(int descriptor);

    [LibraryImport("libc", EntryPoint = "ptsname_r", SetLastError = true)]
    public static unsafe partial int PseudoTerminalName(int descriptor, byte* name, nuint length);

    [LibraryImport("libc", EntryPoint = "tcgetattr", SetLastError = true)]
    public static unsafe partial int GetAttributes(int descriptor, byte* attributes);

    [LibraryImport("libc", EntryPoint = "tcsetattr", SetLastError = true)]
    public static unsafe partial int SetAttributes(int descriptor, int when, byte* attributes);

    [LibraryImport("libc", EntryPoint = "cfmakeraw")]
    public static unsafe partial void MakeRaw(byte* attributes);

    [LibraryImport("libc", EntryPoint = "isatty", SetLastError = true)]
    public static partial int IsTerminal(int descriptor);

    [LibraryImport("libc", EntryPoint = "statx", SetLastError = true, StringMarshalling = StringMarshalling.Utf8)]
    private static unsafe partial int Status(int folder, string path, int flags, uint wanted, byte* status);

    /// <summary>The number of the group that owns a file; null when that can't be told.</summary>
    public static unsafe uint? GroupOf(string path)
    {
        const int currentFolder = -100;
        const uint groupWanted = 0x10;
        const int groupAt = 24; // Of the kernel's fixed 256-byte layout.
        byte* status = stackalloc byte[256];
        return Status(currentFolder, path, 0, groupWanted, status) == 0 ? *(uint*)(status + groupAt) : null;
    }

    [LibraryImport("libc", EntryPoint = "kill", SetLastError = true)]
    public static partial int Signal(int process, int signal);

    [LibraryImport("libc", EntryPoint = "getppid")]
    public static partial int ParentProcess();

    [LibraryImport("libc", EntryPoint = "fcntl", SetLastError = true)]
    public static partial int DescriptorControl(int descriptor, int command, nint argument);

    /// <summary>The last call's error number.</summary>
    public static int LastError => Marshal.GetLastPInvokeError();

    [StructLayout(LayoutKind.Sequential)]
    public struct PollEntry
    {
        public int Descriptor;
        public short Events;
        public short Returned;
    }
}
