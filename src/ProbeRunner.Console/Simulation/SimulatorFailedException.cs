namespace ProbeRunner.Console.Simulation;

/// <summary>The simulated printer did not start; the message is its own.</summary>
internal sealed class SimulatorFailedException(string why) : Exception(why);
