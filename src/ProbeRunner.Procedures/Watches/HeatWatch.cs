using ProbeRunner.Machine.Heat;
using ProbeRunner.Machine.Printers;

namespace ProbeRunner.Procedures.Watches;

/// <summary>
/// Watches the machine's temperature reports: stale, implausible, rising unasked, above the cap, or on for longer than was allowed. It asks
/// for a report itself, between requests, when the last is old.
/// </summary>
/// <param name="printer">The machine.</param>
/// <param name="work">What it is doing.</param>
/// <param name="time">The clock.</param>
/// <param name="limit">How long heaters may be on; null for as long as a person is there.</param>
/// <param name="shortestWait">No deadline is shorter; zero for a real machine.</param>
internal sealed class HeatWatch(IPrinter printer, WorkInHand work, TimeProvider time, TimeSpan? limit, TimeSpan shortestWait) : IRunWatch
{
    /// <summary>How old a report may be before another is asked for.</summary>
    internal static readonly TimeSpan AskAfter = TimeSpan.FromSeconds(2);

    /// <summary>A report older than this is no report.</summary>
    internal static readonly TimeSpan StaleAfter = TimeSpan.FromSeconds(5);

    /// <summary>Off for no longer than this is a pause.</summary>
    internal static readonly TimeSpan LongestPause = TimeSpan.FromMinutes(1);

    private const string HeatersOff = "Heaters go off and the run stops. Look at the machine before it is heated again.";

    private readonly Lock _gate = new();
    private readonly HeaterHistory _nozzle = new("nozzle", printer.Profile.Heat.NozzleCapCelsius);
    private readonly HeaterHistory _bed = new("bed", printer.Profile.Heat.BedCapCelsius);
    private DateTimeOffset _reportedAt;
    private long _heardAt = time.GetTimestamp();
    private long? _onSince;
    private long? _offSince;
    private TimeSpan _onBefore;
    private string? _wrong;

    /// <summary>Whether a report should be asked for before the next request.</summary>
    public bool WantsReport
    {
        get
        {
            lock (_gate)
            {
                return time.GetElapsedTime(_heardAt) >= AskAfter || _nozzle.IsInDoubt || _bed.IsInDoubt;
            }
        }
    }

    /// <summary>Listens to the machine's reports from now on.</summary>
    public void Begin() => printer.Happened += OnReport;

    /// <summary>Listens no longer.</summary>
    public void End() => printer.Happened -= OnReport;

    /// <summary>Takes a report that was asked for.</summary>
    public void Take(Temperatures report)
    {
        lock (_gate)
        {
            if (report.At == _reportedAt)
            {
                return;
            }

            (_reportedAt, _heardAt) = (report.At, time.GetTimestamp());
            _wrong ??= _nozzle.Take(report.NozzleCelsius, report.NozzleTargetCelsius, report.At)
                ?? _bed.Take(report.BedCelsius, report.BedTargetCelsius, report.At);
        }
    }

    /// <inheritdoc />
    public Sight Look()
    {
        if (printer.Now.Temperatures is { } report)
        {
            Take(report);
        }

        lock (_gate)
        {
            if (_wrong is not null)
            {
                return Sight.MustStop($"{_wrong} {HeatersOff}");
            }

            if (!printer.MayBeHeating)
            {
                CountAsOff();
                return Sight.Well;
            }

            _offSince = null;
            _onSince ??= time.GetTimestamp();
            return WhyTooLong() ?? WhyStale() ?? Sight.Well;
        }
    }

    private void OnReport(PrinterEvent happened)
    {
        if (happened is PrinterEvent.TemperaturesReported reported)
        {
            Take(reported.Temperatures);
        }
    }

    /// <summary>A heater that pauses for a touch goes on counting as on; one that rests longer doesn't.</summary>
    private void CountAsOff()
    {
        _offSince ??= time.GetTimestamp();
        if (_onSince is { } since && time.GetElapsedTime(_offSince.Value) > LongestPause)
        {
            _onBefore += time.GetElapsedTime(since, _offSince.Value);
            _onSince = null;
        }
    }

    private Sight? WhyTooLong() => limit is { } allowed && _onBefore + time.GetElapsedTime(_onSince!.Value) > allowed
        ? Sight.MustStop(FormattableString.Invariant($"The heaters were on for {allowed.TotalMinutes:0} minutes, as long as was allowed. They go off and the run stops; it can be resumed with more time."))
        : null;

    private Sight? WhyStale()
    {
        TimeSpan age = time.GetElapsedTime(_heardAt);
        TimeSpan allowed = StaleAfter > shortestWait ? StaleAfter : shortestWait;
        return work.MakesTooOld(age, allowed)
            ? Sight.MustStop(FormattableString.Invariant($"The controller has told no temperature for {age.TotalSeconds:0} s while a heater is on. {HeatersOff}"))
            : null;
    }
}
