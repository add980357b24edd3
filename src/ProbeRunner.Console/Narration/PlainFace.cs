using ProbeRunner.Console.Commands;
using ProbeRunner.Console.Interrupts;
using ProbeRunner.Console.Operators;
using ProbeRunner.Console.Wiring;
using ProbeRunner.Procedures.Operators;

namespace ProbeRunner.Console.Narration;

/// <summary>A run told and asked in plain lines.</summary>
internal sealed class PlainFace(ProgramContext context) : IRunFace
{
    private PlainPrompts? prompts;

    /// <inheritdoc />
    public IOperator PersonFor(MachineLink machine)
    {
        prompts = machine.SimulatedPerson is null ? new PlainPrompts(context.Input, context.Error) : null;
        return machine.SimulatedPerson ?? prompts!;
    }

    /// <inheritdoc />
    public IDisposable Begin(BegunRun run)
    {
        prompts?.Typed.Attach(run.Control);
        return new OperatorInterrupts(context.Time, () => run.Control.Stop(), () => run.Control.Halt(), context.Error);
    }

    /// <inheritdoc />
    public IRunListener ListenerFor(MachineLink machine) => new PlainNarrator(context.Output, context.Error, machine.Speed, prompts is not null);

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
