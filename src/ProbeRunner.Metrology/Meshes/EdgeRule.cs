namespace ProbeRunner.Metrology.Meshes;

/// <summary>What a controller does with a place outside its mesh.</summary>
public enum EdgeRule
{
    /// <summary>The nearest place on the mesh's edge is used.</summary>
    Clamped,

    /// <summary>The outermost cell is extended in a straight line.</summary>
    Extended,
}
