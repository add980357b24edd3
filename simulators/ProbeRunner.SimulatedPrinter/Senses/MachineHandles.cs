namespace ProbeRunner.SimulatedPrinter.Senses;

/// <summary>What a person can do to cable and mains switch.</summary>
internal sealed record MachineHandles(Action PullCable, Action PlugCable, Action PowerOff, Action PowerOn);
