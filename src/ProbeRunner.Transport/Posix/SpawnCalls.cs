using System.Runtime.InteropServices;

namespace ProbeRunner.Transport.Posix;

/// <summary>
/// The C library's calls that start a program with exactly the descriptors it is to have. Its structures are opaque here: glibc and musl
/// need at most 336 bytes for either.
/// </summary>
internal static unsafe partial class SpawnCalls
{
    /// <summary>Room for either structure.</summary>
    public const int StructureBytes = 512;

    /// <summary>The child leads a session of its own: no terminal's interrupt or hang-up reaches it.</summary>
    public const short NewSession = 0x80;

    /// <summary>The child blocks no signal.</summary>
    public const short SetMask = 0x08;

    public const int NoHang = 1;

    [LibraryImport("libc", EntryPoint = "posix_spawn")]
    public static partial int Spawn(int* process, byte* path, byte* actions, byte* attributes, byte** arguments, byte** environment);

    [LibraryImport("libc", EntryPoint = "posix_spawn_file_actions_init")]
    public static partial int BeginActions(byte* actions);

    [LibraryImport("libc", EntryPoint = "posix_spawn_file_actions_adddup2")]
    public static partial int AddDuplicate(byte* actions, int descriptor, int target);

    [LibraryImport("libc", EntryPoint = "posix_spawn_file_actions_destroy")]
    public static partial int EndActions(byte* actions);

    [LibraryImport("libc", EntryPoint = "posix_spawnattr_init")]
    public static partial int BeginAttributes(byte* attributes);

    [LibraryImport("libc", EntryPoint = "posix_spawnattr_setflags")]
    public static partial int SetFlags(byte* attributes, short flags);

    [LibraryImport("libc", EntryPoint = "posix_spawnattr_setsigmask")]
    public static partial int SetSignalMask(byte* attributes, byte* mask);

    [LibraryImport("libc", EntryPoint = "posix_spawnattr_destroy")]
    public static partial int EndAttributes(byte* attributes);

    [LibraryImport("libc", EntryPoint = "waitpid", SetLastError = true)]
    public static partial int Wait(int process, int* status, int options);
}
