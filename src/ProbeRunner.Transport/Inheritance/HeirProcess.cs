using System.Runtime.Versioning;
using System.Text;
using Microsoft.Win32.SafeHandles;
using ProbeRunner.Transport.Posix;

namespace ProbeRunner.Transport.Inheritance;

/// <summary>
/// A child process that holds a link's descriptor beside this one and outlives it: its descriptor 3 is the link, its standard input is
/// what this process tells it and ends with this process, its standard output is heard here. It leads a session of its own.
/// </summary>
[SupportedOSPlatform("linux")]
public sealed class HeirProcess : IAsyncDisposable
{
    /// <summary>The number of the link's descriptor in the child.</summary>
    public const int LinkDescriptor = 3;

    private readonly int _process;
    private readonly SafeFileHandle _telling;
    private readonly DescriptorPump _hearing;
    private readonly StringBuilder _heard = new();

    private HeirProcess(int process, SafeFileHandle telling, DescriptorPump hearing) => (_process, _telling, _hearing) = (process, telling, hearing);

    /// <summary>Its process number.</summary>
    public int Id => _process;

    /// <summary>Starts a program with a link's descriptor.</summary>
    /// <param name="program">Its path.</param>
    /// <param name="arguments">Its arguments.</param>
    /// <param name="link">The link; both processes hold it from now on.</param>
    /// <exception cref="ChildStartException">It could not be started, or the link is closed.</exception>
    public static HeirProcess Start(string program, IReadOnlyList<string> arguments, IInheritable link)
    {
        ArgumentException.ThrowIfNullOrEmpty(program);
        ArgumentNullException.ThrowIfNull(arguments);
        ArgumentNullException.ThrowIfNull(link);
        (int itsInput, int ourOutput) = Pipe();
        (int ourInput, int itsOutput) = Pipe();
        int process = 0;
        try
        {
            if (!link.TryLend(descriptor => process = Spawning.Start(
                program, arguments, [(itsInput, 0), (itsOutput, 1), (descriptor, LinkDescriptor)])))
            {
                throw new ChildStartException($"{link.Name} is closed.");
            }
        }
        catch
        {
            _ = Libc.Close(ourOutput);
            _ = Libc.Close(ourInput);
            throw;
        }
        finally
        {
            _ = Libc.Close(itsInput);
            _ = Libc.Close(itsOutput);
        }

        link.NoteHeir(process);
        SetNonBlocking(ourOutput);
        SetNonBlocking(ourInput);
        var hearing = new DescriptorPump(ourInput, $"heir {process}", () => new EndOfStreamException("The process has ended."), continueOnPump: false);
        return new HeirProcess(process, new SafeFileHandle(ourOutput, ownsHandle: true), hearing);
    }

    /// <summary>Tells it something, without waiting: what does not fit is dropped.</summary>
    /// <returns>False when it has ended, or has listened to nothing for long.</returns>
    public unsafe bool Tell(ReadOnlySpan<byte> bytes)
    {
        bool held = false;
        try
        {
            _telling.DangerousAddRef(ref held);
            fixed (byte* start = bytes)
            {
                return Libc.Write((int)_telling.DangerousGetHandle(), start, (nuint)bytes.Length) == bytes.Length;
            }
        }
        catch (ObjectDisposedException)
        {
            return false;
        }
        finally
        {
            if (held)
            {
                _telling.DangerousRelease();
            }
        }
    }

    /// <summary>Hears a line; null when it has ended before.</summary>
    public async Task<string?> ReadLineAsync(CancellationToken cancel)
    {
        var buffer = new byte[256];
        while (true)
        {
            string text = _heard.ToString();
            int end = text.IndexOf('\n', StringComparison.Ordinal);
            if (end >= 0)
            {
                _heard.Remove(0, end + 1);
                return text[..end];
            }

            try
            {
                int count = await _hearing.Incoming.ReadAsync(buffer, cancel);
                _heard.Append(Encoding.UTF8.GetString(buffer.AsSpan(0, count)));
            }
            catch (EndOfStreamException)
            {
                return null;
            }
        }
    }

    /// <summary>Ends what is told to it: from then on it is alone.</summary>
    public void StopTelling() => _telling.Dispose();

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        StopTelling();
        await _hearing.StopAsync();
        Spawning.Reap(_process);
    }

    private static unsafe (int Read, int Write) Pipe()
    {
        int* ends = stackalloc int[2];
        return Libc.Pipe(ends, Libc.CloseOnExec) == 0
            ? (ends[0], ends[1])
            : throw new ChildStartException($"No pipe could be made (error {Libc.LastError}).");
    }

    private static void SetNonBlocking(int descriptor) =>
        _ = Libc.DescriptorControl(descriptor, Libc.SetStatus, Libc.DescriptorControl(descriptor, Libc.GetStatus, 0) | Libc.NonBlocking);
}
