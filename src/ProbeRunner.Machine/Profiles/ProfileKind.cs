namespace ProbeRunner.Machine.Profiles;

/// <summary>The kinds of file that people copy and edit, each in a folder of its own.</summary>
public enum ProfileKind
{
    /// <summary>A machine, in <c>machines/</c>.</summary>
    Machine,

    /// <summary>What a controller understands and answers, in <c>dialects/</c>.</summary>
    Dialect,

    /// <summary>A list of steps, in <c>runs/</c>.</summary>
    RunScript,
}
