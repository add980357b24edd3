using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Heat;
using ProbeRunner.Machine.Printers;
using ProbeRunner.Procedures.Events;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;
using ProbeRunner.Procedures.Watches;

namespace ProbeRunner.Procedures.Engine;

/// <summary>Holds the machine: motion finished, lifted, probe retracted, waiting; the nozzle heater goes off after a while.</summary>
internal sealed class HoldRoutine(Instruments instruments, Recorder recorder, RunControl control, TimeProvider time, TimeSpan holdLimit, HeatPoll heat)
{
    /// <summary>Holds until a person decides.</summary>
    /// <returns>Whether the machine was held and goes on; false when the hold was taken back before, or stop or halt ended it.</returns>
    public async Task<bool> HoldAsync(int step, string stepName)
    {
        IPrinter printer = instruments.Printer;
        instruments.Nudges.Close();
        recorder.Note(EntryKind.Interrupted, step, new InterruptedPayload("hold", "The operator asked to hold."));
        await StandClearAsync(printer);
        if (control.EnterHold() is not { } released)
        {
            return false;
        }

        instruments.Events.Tell(at => new Remarked(at, stepName, "Held: lifted, probe retracted. Resume or stop."));
        double nozzleTarget = await WaitAsync(printer, released, step, stepName);
        if (control.Phase is RunPhase.StopAsked or RunPhase.Halted)
        {
            return false;
        }

        recorder.Note(EntryKind.Interrupted, step, new InterruptedPayload("resumed", "The operator ended the hold."));
        await AskHandsClearAsync();
        if (nozzleTarget > 0 && control.Phase == RunPhase.Running)
        {
            double bed = (await printer.ReadTemperaturesAsync(CancellationToken.None)).BedTargetCelsius;
            await new HeatRoutine(printer, control).ReachAsync(nozzleTarget, bed);
            recorder.Restored(step, null, "the nozzle heater's target");
        }

        return true;
    }

    private async Task AskHandsClearAsync()
    {
        using var cancel = new CancellationTokenSource();
        Task<Answer> asked = instruments.AskHandsClearAsync(
            PromptIds.HoldHandsClear, "The machine goes on. Paper out, hands clear?", cancel.Token);
        await Task.WhenAny(asked, control.Attention);
        cancel.Cancel(); // not CancelAsync: its callbacks would leave the thread of a virtual clock
        try
        {
            await asked;
        }
        catch (OperationCanceledException)
        {
            // Something else was asked for meanwhile; the engine meets it next.
        }
    }

    private static async Task StandClearAsync(IPrinter printer)
    {
        await printer.QuiesceAsync(CancellationToken.None);
        if (printer.Now.Homed.HasFlag(Axes.Z))
        {
            await printer.LiftToClearanceAsync(CancellationToken.None);
            printer.EndStepDown();
        }
    }

    /// <returns>The nozzle target to be put back; 0 when the heater was left alone.</returns>
    private async Task<double> WaitAsync(IPrinter printer, Task released, int step, string stepName)
    {
        using var cancel = new CancellationTokenSource();
        Task limit = Task.Delay(holdLimit, time, cancel.Token);
        await heat.AskWhileAsync(Task.WhenAny(released, limit));
        if (released.IsCompleted)
        {
            cancel.Cancel(); // not CancelAsync: its callbacks would leave the thread of a virtual clock
            return 0;
        }

        Temperatures before = await printer.ReadTemperaturesAsync(CancellationToken.None);
        if (before.NozzleTargetCelsius > 0)
        {
            await printer.SetHeaterTargetsAsync(0, null, CancellationToken.None);
            recorder.Note(EntryKind.Interrupted, step, new InterruptedPayload("hold", "The hold limit has passed: nozzle heater off."));
            instruments.Events.Tell(at => new Warned(at, stepName, "The hold has lasted long: the nozzle heater is off. It heats again on resume."));
        }

        await heat.AskWhileAsync(released);
        return before.NozzleTargetCelsius;
    }
}
