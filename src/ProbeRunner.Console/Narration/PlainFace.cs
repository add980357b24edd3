using ProbeRunner.Console.Commands;
using ProbeRunner.Console.Interrupts;
using ProbeRunner.Console.Operators;
using ProbeRunner.Console.Wiring;
using ProbeRunner.Procedures.Operators;

namespace ProbeRunner.Console.Narration;

/// <summary>A run told and asked in plain lines.</summary>
internal sealed class PlainFace(ProgramContext context) : IRunFace
{
    private bool asksPerson;

    /// <inheritdoc />
    public IOperator PersonFor(MachineLink machine)
    {
        asksPerson = machine.SimulatedPerson is null;
        return machine.SimulatedPerson ?? new PlainPrompts(context.Input, context.Error);
    }

    /// <inheritdoc />
    public IDisposable Begin(BegunRun run) => new OperatorInterrupts(context.Time, () => run.Control.Stop(), () => run.Control.Halt(), context.Error);

    /// <inheritdoc />
    public IRunListener ListenerFor(MachineLink machine) => new PlainNarrator(context.Output, context.Error, machine.Speed, asksPerson);

    /// <inheritdoc />
    public void End(EndedRun run)
    {
        context.Output.WriteLine();
        context.Output.WriteLine($"Run {run.RunId} is kept in {run.Store}");
        context.Output.WriteLine(run.Report is null ? "No report could be written." : $"The report is {run.Report}");
        if (run.ExitCode is ExitCodes.MachineFailed or ExitCodes.StoppedByOperator)
        {
            context.Error.WriteLine($"When the machine is well again: proberunner resume {run.RunId}");
        }
    }
}
