namespace ProbeRunner.Transport.Tracing;

/// <summary>Which way a traced line went.</summary>
public enum WireDirection
{
    /// <summary>To the controller.</summary>
    Sent,

    /// <summary>From the controller.</summary>
    Received,

    /// <summary>Neither: a remark of the channel.</summary>
    Note,
}
