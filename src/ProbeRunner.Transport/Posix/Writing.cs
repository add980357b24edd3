namespace ProbeRunner.Transport.Posix;

/// <summary>Writes to a descriptor that does not block.</summary>
internal static class Writing
{
    /// <summary>Writes what there is room for.</summary>
    /// <returns>Bytes taken, 0 when there is no room, -1 when the far end is gone.</returns>
    public static unsafe int Some(int descriptor, ReadOnlySpan<byte> bytes)
    {
        int written = 0;
        fixed (byte* start = bytes)
        {
            while (written < bytes.Length)
            {
                nint count = Libc.Write(descriptor, start + written, (nuint)(bytes.Length - written));
                if (count >= 0)
                {
                    written += (int)count;
                    continue;
                }

                switch (Libc.LastError)
                {
                    case Errno.Interrupted:
                        continue;
                    case Errno.TryAgain:
                        return written;
                    default:
                        return -1;
                }
            }
        }

        return written;
    }
}
