using System.IO.Ports;

namespace ProbeRunner.Transport.Links;

/// <summary>
/// A serial device by the framework's serial port; works everywhere. Its stream hangs once the device has vanished, so the first failure
/// is taken as the end, the stream is never touched again, and closing is left to a thread of its own.
/// </summary>
public sealed class SerialPortLink : ILink
{
    private static readonly TimeSpan ClosingWithin = TimeSpan.FromSeconds(1);

    private readonly SerialPort _port;
    private readonly Stream _stream;
    private readonly PortClaim _claim;
    private int _isLost;
    private int _isClosing;

    private SerialPortLink(SerialPort port, PortClaim claim)
    {
        _port = port;
        _stream = port.BaseStream;
        _claim = claim;
    }

    /// <inheritdoc/>
    public string Name => _port.PortName;

    /// <summary>Opens a serial device or a pseudo-terminal.</summary>
    /// <param name="name">The device.</param>
    /// <param name="options">How it is opened.</param>
    /// <exception cref="PortOpenException">It could not be opened; nothing was sent.</exception>
    public static SerialPortLink Open(string name, LinkOptions options)
    {
        ArgumentException.ThrowIfNullOrEmpty(name);
        ArgumentNullException.ThrowIfNull(options);
        PortClaim claim = PortClaim.OfDevice(name, options.ClaimFolder);
        var port = new SerialPort(name, options.Baud, Parity.None, 8, StopBits.One) { Handshake = Handshake.None };
        try
        {
            port.Open();
            SetControlLines(port, options.ControlLines);
            port.DiscardInBuffer();
            return new SerialPortLink(port, claim);
        }
        catch (Exception failure)
        {
            port.Dispose();
            claim.Dispose();
            throw failure is PortOpenException ? failure : Explain(name, failure);
        }
    }

    /// <inheritdoc/>
    public async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancel)
    {
        ThrowIfLost();
        try
        {
            int count = await _stream.ReadAsync(buffer, cancel);
            return count > 0 ? count : throw Lost(null);
        }
        catch (Exception failure) when (failure is not (LinkLostException or OperationCanceledException))
        {
            throw Lost(failure);
        }
    }

    /// <inheritdoc/>
    public async ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancel)
    {
        ThrowIfLost();
        try
        {
            await _stream.WriteAsync(bytes, cancel);
        }
        catch (Exception failure) when (failure is not OperationCanceledException)
        {
            throw Lost(failure);
        }
    }

    /// <summary>Queues a few bytes behind what is being written; the port's own thread hands them on within about a millisecond.</summary>
    /// <returns>Whether they were queued; unlike the other links this one can't say whether the operating system has them yet.</returns>
    public bool WriteUrgent(ReadOnlySpan<byte> bytes)
    {
        if (Volatile.Read(ref _isLost) != 0)
        {
            return false;
        }

        try
        {
            Task write = _stream.WriteAsync(bytes.ToArray(), CancellationToken.None).AsTask();
            write.ContinueWith(static failed => _ = failed.Exception, CancellationToken.None, TaskContinuationOptions.OnlyOnFaulted, TaskScheduler.Default);
            return !write.IsFaulted;
        }
        catch (Exception)
        {
            return false;
        }
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        if (Interlocked.Exchange(ref _isClosing, 1) != 0)
        {
            return;
        }

        Volatile.Write(ref _isLost, 1);
        var closed = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        var closing = new Thread(() =>
        {
            try
            {
                _port.Close();
            }
            catch (Exception)
            {
                // It is gone, one way or the other.
            }
            finally
            {
                closed.SetResult();
            }
        })
        { IsBackground = true, Name = $"close {Name}" };
        closing.Start();
        await Task.WhenAny(closed.Task, Task.Delay(ClosingWithin, TimeProvider.System));
        _claim.Dispose();
    }

    private static void SetControlLines(SerialPort port, ControlLines lines)
    {
        if (lines == ControlLines.LeaveAlone)
        {
            return;
        }

        try
        {
            port.DtrEnable = lines == ControlLines.Raise;
            port.RtsEnable = lines == ControlLines.Raise;
        }
        catch (IOException)
        {
            // A device without these lines.
        }
    }

    private static PortOpenException Explain(string name, Exception failure) => failure switch
    {
        // Every failure to open looks like missing permission; the operating system's own number is inside.
        UnauthorizedAccessException or IOException when !OperatingSystem.IsWindows() && failure.InnerException is { HResult: > 0 and var error }
            => PortProblems.Of(name, error, failure),
        UnauthorizedAccessException => PortProblems.InUse(name, null, failure),
        FileNotFoundException => PortProblems.NotThere(name, failure),
        ArgumentException => PortProblems.NotSerial(name, failure),
        _ => PortProblems.Of(name, failure.HResult, failure),
    };

    private void ThrowIfLost()
    {
        if (Volatile.Read(ref _isLost) != 0)
        {
            throw new LinkLostException(Name);
        }
    }

    private LinkLostException Lost(Exception? reason)
    {
        Volatile.Write(ref _isLost, 1);
        return new LinkLostException(Name, reason);
    }
}
