using ProbeRunner.Console.Wiring;

namespace ProbeRunner.Console.Screens.Running;

/// <summary>What a person chose to have done.</summary>
/// <param name="Title">In a few words, for the top line.</param>
/// <param name="Machine">The machine's name.</param>
/// <param name="Connection">How it is reached.</param>
/// <param name="Script">The script's name for a new run; empty when one is taken up again.</param>
/// <param name="Resumed">The run that is taken up again; null for a new one.</param>
/// <param name="IsFirstVisit">Whether the person is taken by the hand.</param>
internal sealed record RunOrder(string Title, string Machine, Connection Connection, string Script, string? Resumed = null, bool IsFirstVisit = false)
{
    /// <summary>Whether nothing real moves.</summary>
    public bool IsSimulated => Connection is Connection.ToSimulator;
}
