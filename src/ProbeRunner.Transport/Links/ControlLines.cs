namespace ProbeRunner.Transport.Links;

/// <summary>What is done with a serial port's “terminal ready” and “request to send” lines after opening; devices without them ignore it.</summary>
public enum ControlLines
{
    /// <summary>They stay as the operating system sets them on opening (raised; many controllers restart then).</summary>
    LeaveAlone,

    /// <summary>Both are raised.</summary>
    Raise,

    /// <summary>Both are lowered, and stay so for later openings; a controller may still restart at the first one.</summary>
    Lower,
}
