using ProbeRunner.Procedures.Events;

namespace ProbeRunner.Console.Narration;

/// <summary>Shows what a run does, as it happens.</summary>
internal interface IRunListener
{
    /// <summary>Takes one event; returns at once.</summary>
    void On(RunEvent runEvent);
}
