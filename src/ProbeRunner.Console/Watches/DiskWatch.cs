using ProbeRunner.Procedures.Watches;

namespace ProbeRunner.Console.Watches;

/// <summary>Watches the room on the disk that the run is recorded on: a run stops in order while its record can still say so.</summary>
/// <param name="freeBytes">How much is free; may throw what the file system throws.</param>
/// <param name="time">The wall clock.</param>
internal sealed class DiskWatch(Func<long> freeBytes, TimeProvider time) : IRunWatch
{
    /// <summary>Below this the run stops. A night's readings take a few megabytes.</summary>
    internal const long LeastBytes = 32L << 20;

    /// <summary>Below this a person is told.</summary>
    internal const long FewBytes = 256L << 20;

    private static readonly TimeSpan Between = TimeSpan.FromSeconds(5);
    private long? last;

    /// <summary>Watches the disk that a file is on.</summary>
    public static DiskWatch Of(string file, TimeProvider time) => new(() => new DriveInfo(Path.GetDirectoryName(Path.GetFullPath(file))!).AvailableFreeSpace, time);

    /// <inheritdoc />
    public Sight Look()
    {
        if (last is { } then && time.GetElapsedTime(then) < Between)
        {
            return Sight.Well;
        }

        last = time.GetTimestamp();
        return Free() switch
        {
            < LeastBytes => Sight.MustStop($"The disk that the run is recorded on has less than {LeastBytes >> 20} MB left, so the run stops while that can still be written down. Make room, then resume it."),
            < FewBytes => new Sight(null, $"The disk that the run is recorded on has less than {FewBytes >> 20} MB left. Make room soon."),
            _ => Sight.Well,
        };
    }

    private long Free()
    {
        try
        {
            return freeBytes();
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException or ArgumentException)
        {
            return long.MaxValue; // a file system that does not say; the journal's own failure is always noticed
        }
    }
}
