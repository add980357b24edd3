namespace ProbeRunner.Console.Screens.Shell;

/// <summary>The reins of the machine: what can be asked of it from every place, at any time, from any thread.</summary>
internal interface IReins
{
    /// <summary>Whether there is a machine that can move or heat because of us.</summary>
    bool IsUnderWay { get; }

    /// <summary>Whether it stands held.</summary>
    bool IsHeld { get; }

    /// <summary>How the run stands, in a few words, for the top line; empty when there is none.</summary>
    string State { get; }

    /// <summary>Asks for a hold, or ends one.</summary>
    /// <returns>What the person is told.</returns>
    string HoldOrGoOn();

    /// <summary>Asks for a stop.</summary>
    /// <returns>What the person is told.</returns>
    string Stop();

    /// <summary>Halts at once. Never waits, never throws.</summary>
    /// <returns>What the person is told.</returns>
    string Halt();
}
