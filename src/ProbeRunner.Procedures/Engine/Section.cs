namespace ProbeRunner.Procedures.Engine;

/// <summary>What becomes of a section's facts when it is interrupted.</summary>
public enum Retake
{
    /// <summary>They stay; only the request that was interrupted is made again. For readings that each carry their datum epoch.</summary>
    Continue,

    /// <summary>They stay over a hold, and are taken again from the start once the datum was lost (after a resume). For readings that must share one datum.</summary>
    WhenDatumLost,

    /// <summary>They are taken again from the start after any interruption. For motions that build on where the nozzle stood.</summary>
    WhenInterrupted,
}

/// <summary>
/// A named part of a step whose body may run again. The body begins with its own approach and returns its result;
/// it changes nothing outside itself, so that running it again is harmless.
/// </summary>
/// <param name="Name">Unique within the step.</param>
/// <param name="Retake">What an interruption costs.</param>
/// <param name="Planned">How many readings it plans; null when it decides as it goes.</param>
public sealed record Section(string Name, Retake Retake, int? Planned = null);
