using System.Runtime.InteropServices;

namespace ProbeRunner.Console.Screens.Host;

/// <summary>How the terminal treats lines and keys, kept as it was and put back as it was.</summary>
internal sealed partial class TerminalAttributes
{
    private const int Size = 256; // more than any platform's
    private const int Input = 0;
    private const int Now = 0;
    private readonly byte[]? saved;

    private TerminalAttributes(byte[]? saved) => this.saved = saved;

    /// <summary>Keeps them as they are now; nothing where there is no terminal or none of that kind.</summary>
    public static TerminalAttributes Save()
    {
        if (OperatingSystem.IsWindows())
        {
            return new TerminalAttributes(null);
        }

        var attributes = new byte[Size];
        return new TerminalAttributes(Get(Input, attributes) == 0 ? attributes : null);
    }

    /// <summary>Puts them back.</summary>
    public void Restore()
    {
        if (saved is not null)
        {
            _ = Set(Input, Now, saved);
        }
    }

    [LibraryImport("libc", EntryPoint = "tcgetattr")]
    private static partial int Get(int descriptor, Span<byte> attributes);

    [LibraryImport("libc", EntryPoint = "tcsetattr")]
    private static partial int Set(int descriptor, int when, ReadOnlySpan<byte> attributes);
}
