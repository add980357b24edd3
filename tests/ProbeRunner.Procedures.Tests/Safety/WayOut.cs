namespace ProbeRunner.Procedures.Tests.Safety;

/// <summary>How a run is left.</summary>
public enum WayOut
{
    /// <summary>It ends.</summary>
    Ends,

    /// <summary>The person asks for a stop.</summary>
    Stop,

    /// <summary>The person halts it; the controller is switched off and on.</summary>
    Halt,

    /// <summary>The cable is pulled and put back, and the run is taken up again and stopped at once.</summary>
    Cable,

    /// <summary>An error is thrown: the record can't be written.</summary>
    Error,

    /// <summary>Nobody answers any more.</summary>
    OperatorGone,
}
