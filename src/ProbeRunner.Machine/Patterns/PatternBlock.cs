using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;

namespace ProbeRunner.Machine.Patterns;

/// <summary>One patch of a pattern.</summary>
/// <param name="Remark">What the file says of it.</param>
/// <param name="Start">Where its first line begins, bed coordinates.</param>
/// <param name="HeightMm">Height of all its lines.</param>
/// <param name="FeedMmPerMin">Feed of laying.</param>
/// <param name="Lines">In order.</param>
public sealed record PatternBlock(string Remark, BedPoint Start, double HeightMm, double FeedMmPerMin, ImmutableArray<LaidLine> Lines);

/// <summary>Temperatures that a pattern is laid with, degC.</summary>
/// <param name="ProbingCelsius">The nozzle's while it homes, below oozing.</param>
/// <param name="NozzleCelsius">The nozzle's while it prints.</param>
/// <param name="BedCelsius">The bed's.</param>
public readonly record struct PatternHeat(double ProbingCelsius, double NozzleCelsius, double BedCelsius);
