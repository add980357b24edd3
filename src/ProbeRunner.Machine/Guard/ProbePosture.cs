namespace ProbeRunner.Machine.Guard;

/// <summary>What the probe's tip is, as far as is known: it decides which part of the head is the lowest.</summary>
public enum ProbePosture
{
    /// <summary>Not known: after a reset, a failed touch or a broken command. Taken to be extended.</summary>
    Unknown,

    /// <summary>Out of the way; the nozzle is the lowest part.</summary>
    Retracted,

    /// <summary>In its working position; its tip is the lowest part.</summary>
    Extended,
}
