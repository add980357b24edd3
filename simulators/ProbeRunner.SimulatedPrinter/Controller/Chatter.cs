using ProbeRunner.SimulatedPrinter.Scenarios;

namespace ProbeRunner.SimulatedPrinter.Controller;

/// <summary>Lines that nobody asked for: keep-alives, temperature reports, remarks, <c>wait</c>.</summary>
internal sealed class Chatter(ControllerScenario options, Wording wording)
{
    private static readonly string[] Remarks = ["echo:lid switch reads closed", "// fan turns at a third", "echo:light dimmed"];

    private TimeSpan _nextBusy;
    private TimeSpan _nextReport;
    private TimeSpan _nextRemark = TimeSpan.FromSeconds(options.RemarkSeconds);
    private TimeSpan _nextWait = TimeSpan.FromSeconds(1);
    private int _remarks;

    /// <summary>A long command has begun.</summary>
    public void BecomeBusy(TimeSpan now) => _nextBusy = now + TimeSpan.FromSeconds(options.BusySeconds);

    /// <summary>Something was said; <c>wait</c> counts from there.</summary>
    public void Spoke(TimeSpan now) => _nextWait = now + TimeSpan.FromSeconds(1);

    /// <summary>When the next of these lines is due.</summary>
    public TimeSpan? NextDue(bool busy, double reportSeconds)
    {
        TimeSpan? due = options.RemarkSeconds > 0 ? _nextRemark : null;
        due = busy && options.BusySeconds > 0 ? Earlier(due, _nextBusy) : due;
        due = !busy && reportSeconds > 0 ? Earlier(due, _nextReport) : due;
        return !busy && options.SaysWait ? Earlier(due, _nextWait) : due;
    }

    /// <summary>Says what is due.</summary>
    public void Speak(TimeSpan now, bool busy, double reportSeconds, Func<string> temperatures, Action<string> say)
    {
        if (options.RemarkSeconds > 0 && _nextRemark <= now)
        {
            _nextRemark = now + TimeSpan.FromSeconds(options.RemarkSeconds);
            say(Remarks[_remarks++ % Remarks.Length]);
        }

        if (busy)
        {
            if (options.BusySeconds > 0 && _nextBusy <= now)
            {
                _nextBusy = now + TimeSpan.FromSeconds(options.BusySeconds);
                say(wording.Busy);
            }

            return;
        }

        if (reportSeconds > 0 && _nextReport <= now)
        {
            _nextReport = now + TimeSpan.FromSeconds(reportSeconds);
            say(" " + temperatures());
        }

        if (options.SaysWait && _nextWait <= now)
        {
            say(Wording.Wait);
        }
    }

    private static TimeSpan Earlier(TimeSpan? one, TimeSpan other) => one is null || other < one ? other : one.Value;
}
