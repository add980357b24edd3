using ProbeRunner.Machine.Printers;

namespace ProbeRunner.Procedures.Events;

/// <summary>What is known of the machine has changed.</summary>
/// <param name="Machine">What is known now.</param>
public sealed record MachineSeen(TimeSpan At, PrinterSnapshot Machine) : RunEvent(At);
