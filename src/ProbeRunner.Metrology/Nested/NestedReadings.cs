namespace ProbeRunner.Metrology.Nested;

/// <summary>One reading and where it belongs: the labels of its groups, outermost first (homing, extension).</summary>
/// <param name="Labels">One per level; a label counts only within the group around it.</param>
/// <param name="Value">The reading.</param>
public sealed record NestedReading(IReadOnlyList<string> Labels, double Value);
