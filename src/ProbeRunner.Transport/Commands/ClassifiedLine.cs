namespace ProbeRunner.Transport.Commands;

/// <summary>A line's meaning and the line number in it.</summary>
/// <param name="Kind">What the line means.</param>
/// <param name="LineNumber">The number wanted again, or the number acknowledged; null when the line names none.</param>
public readonly record struct ClassifiedLine(LineKind Kind, int? LineNumber = null);
