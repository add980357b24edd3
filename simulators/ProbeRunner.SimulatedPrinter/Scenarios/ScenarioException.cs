namespace ProbeRunner.SimulatedPrinter.Scenarios;

/// <summary>A scenario file cannot be used; the message has a line for each thing wrong: file:line:column, what is wrong, what is accepted.</summary>
public sealed class ScenarioException(string message) : Exception(message);
