using System.Runtime.Versioning;
using ProbeRunner.Transport.Inheritance;
using ProbeRunner.Transport.Posix;

namespace ProbeRunner.Transport.Links;

/// <summary>
/// A serial device on Linux by a plain descriptor and one thread: about 30 microseconds a round trip where the framework's serial port
/// takes a millisecond or more, and a vanished device is noticed at once. A waiting read without a synchronization context continues on
/// that thread: what follows it must be quick and must not block.
/// </summary>
[SupportedOSPlatform("linux")]
public sealed class DescriptorLink : ILink, IInheritable
{
    private readonly DescriptorPump _pump;
    private readonly PortClaim? _claim;

    private DescriptorLink(string name, int descriptor, PortClaim? claim)
    {
        Name = name;
        _claim = claim;
        _pump = new DescriptorPump(descriptor, $"link {name}", () => new LinkLostException(name), continueOnPump: true);
    }

    /// <inheritdoc/>
    public string Name { get; }

    /// <summary>Opens a serial device or a pseudo-terminal for this process alone.</summary>
    /// <param name="path">The device.</param>
    /// <param name="options">How it is opened.</param>
    /// <exception cref="PortOpenException">It could not be opened; nothing was sent.</exception>
    public static DescriptorLink Open(string path, LinkOptions options)
    {
        ArgumentException.ThrowIfNullOrEmpty(path);
        ArgumentNullException.ThrowIfNull(options);
        if (!File.Exists(path))
        {
            throw Directory.Exists(path) ? PortProblems.NotSerial(path) : PortProblems.NotThere(path);
        }

        PortClaim claim = PortClaim.OfDevice(path, options.ClaimFolder);
        try
        {
            return new DescriptorLink(path, OpenWhenLeft(path, options, claim), claim);
        }
        catch
        {
            claim.Dispose();
            throw;
        }
    }

    /// <summary>Takes over a descriptor that another process opened and handed on: a serial device, a pseudo-terminal or a network connection.</summary>
    /// <param name="descriptor">The descriptor; the link owns it from now on.</param>
    /// <param name="name">What a person calls it.</param>
    /// <exception cref="LinkLostException">There is no such descriptor.</exception>
    public static DescriptorLink OfInherited(int descriptor, string name)
    {
        ArgumentException.ThrowIfNullOrEmpty(name);
        int flags = Libc.DescriptorControl(descriptor, Libc.GetStatus, 0);
        return flags >= 0 && Libc.DescriptorControl(descriptor, Libc.SetStatus, flags | Libc.NonBlocking) == 0
            ? new DescriptorLink(name, descriptor, claim: null)
            : throw new LinkLostException(name);
    }

    /// <inheritdoc/>
    public bool TryLend(Action<int> use) => _pump.TryLend(use);

    /// <inheritdoc/>
    public void NoteHeir(int process) => _claim?.NoteHeir(process);

    /// <inheritdoc/>
    public ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancel) => _pump.Incoming.ReadAsync(buffer, cancel);

    /// <inheritdoc/>
    public ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancel) => _pump.WriteAsync(bytes, cancel);

    /// <inheritdoc/>
    public bool WriteUrgent(ReadOnlySpan<byte> bytes) => _pump.WriteUrgent(bytes);

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await _pump.StopAsync();
        _claim?.Dispose();
    }

    /// <summary>
    /// The claim is ours, so no other console has the port; but the heir of one that died may still be switching its heaters off. It is
    /// waited for: that takes a second or two.
    /// </summary>
    private static int OpenWhenLeft(string path, LinkOptions options, PortClaim claim)
    {
        try
        {
            return OpenDevice(path, options);
        }
        catch (PortOpenException taken) when (taken.Problem is PortProblem.InUse && claim.IsHeirAtWork())
        {
            throw new PortOpenException(
                path, PortProblem.StillHeld, $"{path} is still held by the guardian of a run that ended just now: it is switching the heaters off. Try again in a moment.", taken.HolderProcess, taken);
        }
    }

    private static int OpenDevice(string path, LinkOptions options)
    {
        int descriptor = Libc.Open(path, Libc.ReadWrite | Libc.NoControllingTerminal | Libc.NonBlocking | Libc.CloseOnExec, 0);
        if (descriptor < 0)
        {
            throw PortProblems.Of(path, Libc.LastError);
        }

        try
        {
            if (Libc.IsTerminal(descriptor) != 1)
            {
                throw PortProblems.NotSerial(path);
            }

            if (Libc.Lock(descriptor, Libc.LockExclusive | Libc.LockNonBlocking) != 0)
            {
                throw PortProblems.Of(path, Libc.LastError);
            }

            Terminal.MakeExclusive(descriptor);
            if (Terminal.Configure(descriptor, options.Baud, hangUpOnClose: options.ControlLines != ControlLines.Lower) is not 0 and int error)
            {
                throw PortProblems.Of(path, error);
            }

            if (options.ControlLines != ControlLines.LeaveAlone)
            {
                Terminal.SetControlLines(descriptor, options.ControlLines == ControlLines.Raise);
            }

            return descriptor;
        }
        catch
        {
            _ = Libc.Close(descriptor);
            throw;
        }
    }
}
