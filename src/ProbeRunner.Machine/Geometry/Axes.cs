namespace ProbeRunner.Machine.Geometry;

/// <summary>A set of the machine's linear axes.</summary>
[Flags]
public enum Axes
{
    /// <summary>No axis.</summary>
    None = 0,

    /// <summary>Left and right.</summary>
    X = 1,

    /// <summary>Front and back.</summary>
    Y = 2,

    /// <summary>Up and down.</summary>
    Z = 4,

    /// <summary>Both horizontal axes.</summary>
    XY = X | Y,

    /// <summary>All three.</summary>
    All = X | Y | Z,
}
