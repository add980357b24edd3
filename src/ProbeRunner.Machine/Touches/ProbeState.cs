namespace ProbeRunner.Machine.Touches;

/// <summary>What the controller says of the probe's switch.</summary>
public enum ProbeState
{
    /// <summary>Not touching anything.</summary>
    Open,

    /// <summary>Touching, or at fault.</summary>
    Triggered,

    /// <summary>The controller does not report it.</summary>
    Unknown,
}
