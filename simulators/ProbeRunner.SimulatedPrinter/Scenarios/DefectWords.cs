using ProbeRunner.SimulatedPrinter.Physics;

namespace ProbeRunner.SimulatedPrinter.Scenarios;

/// <summary>What scenario files and fault plans call a probe's defects.</summary>
internal static class DefectWords
{
    /// <summary>All of them.</summary>
    public static readonly (string Word, ProbeDefect Meaning)[] All =
    [
        ("never-triggers", ProbeDefect.NeverTriggers),
        ("stuck-triggered", ProbeDefect.StuckTriggered),
        ("reversed", ProbeDefect.Reversed),
        ("flickers", ProbeDefect.Flickers),
        ("stays-in", ProbeDefect.StaysIn),
        ("stays-out", ProbeDefect.StaysOut),
    ];
}
