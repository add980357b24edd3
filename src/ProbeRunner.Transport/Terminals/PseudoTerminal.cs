using System.Runtime.Versioning;
using System.Text;
using ProbeRunner.Transport.Links;
using ProbeRunner.Transport.Posix;

namespace ProbeRunner.Transport.Terminals;

/// <summary>
/// A pseudo-terminal: a serial device made of software. This is the controller's end; the host opens <see cref="DevicePath"/> as it
/// would a USB port. Closing this end is a pulled cable: the descriptor is closed for real, and the host's end hangs up.
/// </summary>
public sealed class PseudoTerminal : ILink
{
    private const int AttributesSize = 256; // More than any platform's terminal attributes.

    private readonly DescriptorPump _pump;
    private readonly int _keptOpen;
    private readonly string? _alias;
    private int _isClosed;

    private PseudoTerminal(int master, int keptOpen, string devicePath, string? alias)
    {
        _keptOpen = keptOpen;
        _alias = alias;
        DevicePath = devicePath;
        _pump = new DescriptorPump(master, $"terminal {devicePath}", () => new LinkLostException(devicePath), continueOnPump: false);
    }

    /// <summary>Whether this operating system is one on which they can be made here: Linux.</summary>
    [SupportedOSPlatformGuard("linux")]
    public static bool IsSupported => OperatingSystem.IsLinux();

    /// <summary>The device that the host opens.</summary>
    public string DevicePath { get; }

    /// <inheritdoc/>
    public string Name => _alias ?? DevicePath;

    /// <summary>Makes a pseudo-terminal that passes every byte as it is.</summary>
    /// <param name="alias">A path that shall lead to the device by a symbolic link, replacing an earlier link; null for none.</param>
    /// <exception cref="PlatformNotSupportedException">Not on Linux: use a network connection instead.</exception>
    /// <exception cref="IOException">The operating system gives none, or the alias is taken by something that is no symbolic link.</exception>
    public static PseudoTerminal Open(string? alias = null)
    {
        if (!IsSupported)
        {
            throw new PlatformNotSupportedException("Pseudo-terminals are made on Linux only; use a network connection here.");
        }

        int master = Libc.OpenPseudoTerminal(Libc.ReadWrite | Libc.NoControllingTerminal | Libc.CloseOnExec | Libc.NonBlocking);
        if (master < 0)
        {
            throw new IOException($"The operating system gives no pseudo-terminal (error {Libc.LastError}).");
        }

        int kept = -1;
        string path;
        try
        {
            path = Unlock(master);

            // One descriptor of the host's end stays open: without any, reading at this end fails between two openings.
            kept = Libc.Open(path, Libc.ReadWrite | Libc.NoControllingTerminal | Libc.CloseOnExec, 0);
            if (kept < 0)
            {
                throw new IOException($"The pseudo-terminal {path} can't be opened (error {Libc.LastError}).");
            }

            MakeRaw(kept, path);
            if (alias is not null)
            {
                PlaceAlias(alias, path);
            }
        }
        catch
        {
            _ = Libc.Close(master);
            if (kept >= 0)
            {
                _ = Libc.Close(kept);
            }

            throw;
        }

        return new PseudoTerminal(master, kept, path, alias);
    }

    /// <inheritdoc/>
    public ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancel) => _pump.Incoming.ReadAsync(buffer, cancel);

    /// <inheritdoc/>
    public ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancel) => _pump.WriteAsync(bytes, cancel);

    /// <inheritdoc/>
    public bool WriteUrgent(ReadOnlySpan<byte> bytes) => _pump.WriteUrgent(bytes);

    /// <summary>Pulls the cable, and removes the alias.</summary>
    public async ValueTask DisposeAsync()
    {
        if (Interlocked.Exchange(ref _isClosed, 1) != 0)
        {
            return;
        }

        RemoveAlias();
        await _pump.StopAsync();
        _ = Libc.Close(_keptOpen);
    }

    private static unsafe string Unlock(int master)
    {
        byte* name = stackalloc byte[128];
        if (Libc.GrantPseudoTerminal(master) != 0 || Libc.UnlockPseudoTerminal(master) != 0
            || Libc.PseudoTerminalName(master, name, 128) != 0)
        {
            throw new IOException($"The pseudo-terminal can't be unlocked (error {Libc.LastError}).");
        }

        var bytes = new ReadOnlySpan<byte>(name, 128);
        return Encoding.UTF8.GetString(bytes[..bytes.IndexOf((byte)0)]);
    }

    private static unsafe void MakeRaw(int descriptor, string path)
    {
        byte* attributes = stackalloc byte[AttributesSize];
        if (Libc.GetAttributes(descriptor, attributes) != 0)
        {
            throw new IOException($"The settings of {path} can't be read (error {Libc.LastError}).");
        }

        Libc.MakeRaw(attributes);
        if (Libc.SetAttributes(descriptor, 0, attributes) != 0)
        {
            throw new IOException($"The settings of {path} can't be changed (error {Libc.LastError}).");
        }
    }

    private static void PlaceAlias(string alias, string path)
    {
        var link = new FileInfo(alias);
        if (link.LinkTarget is not null)
        {
            link.Delete();
        }

        File.CreateSymbolicLink(alias, path);
    }

    private void RemoveAlias()
    {
        try
        {
            if (_alias is not null && new FileInfo(_alias) is { LinkTarget: { } target } link && target == DevicePath)
            {
                link.Delete();
            }
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            // A link that leads nowhere is left behind; the next start replaces it.
        }
    }
}
