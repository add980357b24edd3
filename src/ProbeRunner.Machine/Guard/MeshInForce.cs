using ProbeRunner.Machine.Settings;

namespace ProbeRunner.Machine.Guard;

/// <summary>What mesh correction adds to a commanded height, as far as is known, mm.</summary>
/// <param name="Lowest">The least it adds anywhere.</param>
/// <param name="Highest">The most it adds anywhere.</param>
public sealed record MeshInForce(double Lowest, double Highest)
{
    /// <summary>Correction is off.</summary>
    public static MeshInForce Off { get; } = new(0, 0);

    /// <summary>Correction with a known mesh; between nodes it is never beyond the nodes' own range.</summary>
    public static MeshInForce Of(MeshNodes mesh)
    {
        ArgumentNullException.ThrowIfNull(mesh);
        return new MeshInForce(mesh.Heights.Min(), mesh.Heights.Max());
    }

    /// <summary>Whether correction is known to be off.</summary>
    public bool IsOff => Lowest == 0 && Highest == 0;
}
