using ProbeRunner.Console.Commands;
using ProbeRunner.Console.Interrupts;
using ProbeRunner.Console.Operators;
using ProbeRunner.Console.Wiring;
using ProbeRunner.Procedures.Operators;

namespace ProbeRunner.Console.Narration;

/// <summary>A run told as JSON lines, its questions answered by JSON lines.</summary>
internal sealed class JsonFace(ProgramContext context) : IRunFace
{
    private readonly JsonNarrator narrator = new(context.Output);
    private JsonPrompts? prompts;

    /// <inheritdoc />
    public IOperator PersonFor(MachineLink machine)
    {
        prompts = machine.SimulatedPerson is null ? new JsonPrompts(context.Input, context.Error) : null;
        return machine.SimulatedPerson ?? prompts!;
    }

    /// <inheritdoc />
    public IDisposable Begin(BegunRun run)
    {
        prompts?.Typed.Attach(run.Control);
        return new OperatorInterrupts(context.Time, () => run.Control.Stop(), () => run.Control.Halt(), context.Error);
    }

    /// <inheritdoc />
    public IRunListener ListenerFor(MachineLink machine) => narrator;

    /// <inheritdoc />
    public void End(EndedRun run) => narrator.TellEnd(run.Outcome, run.ExitCode, run.Report);
}
