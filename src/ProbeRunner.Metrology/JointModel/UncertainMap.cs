using System.Collections.Immutable;
using ProbeRunner.Metrology.Meshes;

namespace ProbeRunner.Metrology.JointModel;

/// <summary>A map of the bed and how sure it is.</summary>
/// <param name="Heights">Expected heights.</param>
/// <param name="StandardDeviations">Their standard uncertainties, mm, in the same order.</param>
public sealed record UncertainMap(SurfaceMap Heights, ImmutableArray<double> StandardDeviations)
{
    /// <summary>Root mean square of the standard uncertainties, mm: the expected size of the map's error.</summary>
    public double RmsStandardDeviation => Math.Sqrt(StandardDeviations.Average(sd => sd * sd));
}
