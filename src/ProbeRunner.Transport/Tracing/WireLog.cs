using System.Globalization;
using Serilog;
using Serilog.Core;

namespace ProbeRunner.Transport.Tracing;

/// <summary>Makes the log file of a wire trace.</summary>
public static class WireLog
{
    /// <summary>
    /// A log in files that change every day and at 8 MiB, of which the last 10 are kept. Written lines are buffered for up to a second,
    /// so that the disk never delays the wire; dispose it to have them all.
    /// </summary>
    /// <param name="path">The file; the date goes in front of its extension.</param>
    public static Logger Open(string path)
    {
        ArgumentException.ThrowIfNullOrEmpty(path);
        return new LoggerConfiguration()
            .WriteTo.File(
                path,
                outputTemplate: "{Timestamp:yyyy-MM-ddTHH:mm:ss.ffffffzzz} {Message:l}{NewLine}",
                formatProvider: CultureInfo.InvariantCulture,
                rollingInterval: RollingInterval.Day,
                rollOnFileSizeLimit: true,
                fileSizeLimitBytes: 8 << 20,
                retainedFileCountLimit: 10,
                buffered: true,
                flushToDiskInterval: TimeSpan.FromSeconds(1))
            .CreateLogger();
    }
}
