using System.Collections.Immutable;
using Serilog;
using Serilog.Events;
using Serilog.Parsing;

namespace ProbeRunner.Transport.Tracing;

/// <summary>
/// What went over the wire: the last lines in memory and, if a log is given, all of them in it. Safe from any thread.
/// A log that fails never disturbs the channel.
/// </summary>
public sealed class WireTrace
{
    private static readonly MessageTemplate FileTemplate = new MessageTemplateParser().Parse("{Direction} {Text}");

    private readonly Lock _gate = new();
    private readonly WireEntry[] _ring;
    private readonly TimeProvider _time;
    private readonly ILogger? _log;
    private long _count;

    /// <summary>Makes an empty trace.</summary>
    /// <param name="time">The clock of the entries.</param>
    /// <param name="log">Also gets every line, made printable; see <see cref="WireLog"/>. Null for none.</param>
    /// <param name="capacity">Lines kept in memory, 1 to 1,000,000.</param>
    public WireTrace(TimeProvider time, ILogger? log = null, int capacity = 4096)
    {
        ArgumentNullException.ThrowIfNull(time);
        ArgumentOutOfRangeException.ThrowIfLessThan(capacity, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(capacity, 1_000_000);
        _time = time;
        _log = log;
        _ring = new WireEntry[capacity];
    }

    /// <summary>Lines traced since the beginning, those that fell out of memory included.</summary>
    public long Count
    {
        get
        {
            lock (_gate)
            {
                return _count;
            }
        }
    }

    /// <summary>The lines in memory, oldest first.</summary>
    public ImmutableArray<WireEntry> Recent()
    {
        lock (_gate)
        {
            int kept = (int)Math.Min(_count, _ring.Length);
            var entries = ImmutableArray.CreateBuilder<WireEntry>(kept);
            for (long i = _count - kept; i < _count; i++)
            {
                entries.Add(_ring[i % _ring.Length]);
            }

            return entries.MoveToImmutable();
        }
    }

    /// <summary>Adds a line.</summary>
    internal void Record(WireDirection direction, string text)
    {
        var entry = new WireEntry(_time.GetUtcNow(), direction, text);
        lock (_gate)
        {
            _ring[_count++ % _ring.Length] = entry;
        }

        if (_log is not null)
        {
            WriteToLog(_log, entry);
        }
    }

    private static void WriteToLog(ILogger log, WireEntry entry)
    {
        string arrow = entry.Direction switch { WireDirection.Sent => "->", WireDirection.Received => "<-", _ => "--" };
        log.Write(new LogEvent(entry.Time, LogEventLevel.Information, null, FileTemplate,
        [
            new LogEventProperty("Direction", new ScalarValue(arrow)),
            new LogEventProperty("Text", new ScalarValue(entry.Printable)),
        ]));
    }
}
