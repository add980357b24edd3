using ProbeRunner.Machine.Printers;
using ProbeRunner.Procedures.Engine;

namespace ProbeRunner.Procedures.Watches;

/// <summary>Asks the machine for its temperatures when the last report is old, in the gaps where nothing else is asked of it.</summary>
/// <param name="printer">The machine.</param>
/// <param name="watch">What looks at the reports; null when nobody has to, since no heater can be on.</param>
/// <param name="control">Stops the run.</param>
/// <param name="time">The clock.</param>
/// <param name="evenCold">Whether a heater that is off is asked after too, because nobody would see it rise. A person may have halted the machine on purpose.</param>
internal sealed class HeatPoll(IPrinter printer, HeatWatch? watch, RunControl control, TimeProvider time, bool evenCold)
{
    /// <summary>Asks if the last report is old or in doubt.</summary>
    public async Task AskIfOldAsync()
    {
        if ((evenCold || printer.MayBeHeating) && watch is { WantsReport: true })
        {
            watch.Take(await printer.ReadTemperaturesAsync(CancellationToken.None));
            if (watch.Look().Stop is { } why)
            {
                control.Fail(why);
            }
        }
    }

    /// <summary>Asks again and again while something is waited for in which the machine has no part.</summary>
    public async Task AskWhileAsync(Task waited)
    {
        while (watch is not null && !waited.IsCompleted)
        {
            using var cancel = new CancellationTokenSource();
            await Task.WhenAny(waited, Task.Delay(HeatWatch.AskAfter, time, cancel.Token));
            cancel.Cancel(); // not CancelAsync: its callbacks would leave the thread of a virtual clock
            if (!waited.IsCompleted)
            {
                await AskIfOldAsync();
            }
        }

        await waited;
    }
}
