namespace ProbeRunner.SimulatedPrinter.Physics;

/// <summary>What is wrong with a probe.</summary>
public enum ProbeDefect
{
    /// <summary>Nothing.</summary>
    None,

    /// <summary>It never reports a trigger.</summary>
    NeverTriggers,

    /// <summary>It always reports one.</summary>
    StuckTriggered,

    /// <summary>The pin does not come out.</summary>
    StaysIn,

    /// <summary>The pin does not go in.</summary>
    StaysOut,
}
