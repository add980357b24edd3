namespace ProbeRunner.Transport.Posix;

/// <summary>Wakes a thread that waits in <c>poll</c>. Its owner keeps it from being used once it is closed.</summary>
internal sealed unsafe class WakePipe
{
    private readonly int _writer;

    private WakePipe(int reader, int writer) => (Reader, _writer) = (reader, writer);

    /// <summary>The descriptor to wait for.</summary>
    public int Reader { get; }

    /// <summary>Makes one.</summary>
    /// <returns>Null when there is none to be had; <see cref="Libc.LastError"/> says why.</returns>
    public static WakePipe? Open()
    {
        int* ends = stackalloc int[2];
        return Libc.Pipe(ends, Libc.NonBlocking | Libc.CloseOnExec) == 0 ? new WakePipe(ends[0], ends[1]) : null;
    }

    /// <summary>Wakes the thread.</summary>
    public void Wake()
    {
        byte one = 1;
        _ = Libc.Write(_writer, &one, 1);
    }

    /// <summary>The thread has woken.</summary>
    public void Drain()
    {
        byte* drained = stackalloc byte[64];
        _ = Libc.Read(Reader, drained, 64);
    }

    /// <summary>Closes both ends.</summary>
    public void Close()
    {
        _ = Libc.Close(Reader);
        _ = Libc.Close(_writer);
    }
}
