namespace ProbeRunner.Procedures.Requests;

/// <summary>Kinds of work whose duration the run learns, for time left.</summary>
public enum WorkKind
{
    /// <summary>A question and its answer on the wire, nothing moves.</summary>
    Exchange,

    /// <summary>A level move, a lift, an extension.</summary>
    Motion,

    /// <summary>One touch with everything around it.</summary>
    Touch,

    /// <summary>A homing.</summary>
    Homing,

    /// <summary>A question to the person.</summary>
    Question,
}
