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

    /// <summary>Its wire is the wrong way round: it reports a trigger while nothing touches it, and none while something does.</summary>
    Reversed,

    /// <summary>A loose contact: what it reports changes from one look to the next.</summary>
    Flickers,

    /// <summary>The pin does not come out.</summary>
    StaysIn,

    /// <summary>The pin does not go in.</summary>
    StaysOut,
}
