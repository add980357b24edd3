using ProbeRunner.Records.Runs;

namespace ProbeRunner.Console.Screens.Start;

/// <summary>What can be set going from the start screen.</summary>
internal interface IStartActions
{
    /// <summary>Begins a script on a machine, after a confirmation.</summary>
    void Begin(MachineChoice machine, PortChoice port, ScriptChoice work);

    /// <summary>Takes a run up again, after a confirmation.</summary>
    void Resume(RunListing run, PortChoice? port);

    /// <summary>Opens what a run came to.</summary>
    void OpenResults(RunListing run);

    /// <summary>Compares a run's map with an earlier one.</summary>
    void Compare(RunListing run);

    /// <summary>Describes a new machine.</summary>
    void NewMachine();

    /// <summary>Takes the person by the hand.</summary>
    void FirstVisit();

    /// <summary>Looks for machines, ports and runs again.</summary>
    void LookAgain();
}
