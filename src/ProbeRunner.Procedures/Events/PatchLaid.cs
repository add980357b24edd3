using ProbeRunner.Machine.Geometry;

namespace ProbeRunner.Procedures.Events;

/// <summary>A patch of a first layer lies on the bed.</summary>
/// <param name="Place">Its middle.</param>
/// <param name="HeightMm">The height it was laid at, nudges included.</param>
public sealed record PatchLaid(TimeSpan At, string Step, BedPoint Place, double HeightMm) : RunEvent(At);
