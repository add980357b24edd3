using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;

namespace ProbeRunner.Machine.Settings;

/// <summary>The controller's correction mesh: heights to add to the commanded Z, mm, positive where the bed is high.</summary>
/// <param name="Area">The rectangle its outermost nodes span, bed coordinates.</param>
/// <param name="Columns">Nodes along X, 2 or more.</param>
/// <param name="Rows">Nodes along Y, 2 or more.</param>
/// <param name="Heights">Row-major, front row first, left node first; Columns x Rows of them.</param>
public sealed record MeshNodes(BedRectangle Area, int Columns, int Rows, ImmutableArray<double> Heights);
