using System.Collections.Immutable;
using System.Globalization;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Procedures.Steps.MeshHandOver;

/// <summary>What a person is told to enter, paste or copy.</summary>
internal static class MeshWords
{
    /// <summary>Nodes must be entered by hand.</summary>
    public static Finding ByHandFinding { get; } = new(
        "mesh.by-hand", "The correction mesh must be entered by hand.", null, "controller", 1, "The controller takes no single nodes from the host.",
        "Enter the listed heights at its screen, or let it probe its own mesh and capture again to judge that.");

    /// <summary>The nodes as a table to be typed.</summary>
    public static string ByHand(MeshNodes mesh) =>
        "Enter these node heights (mm) at the controller's own screen, front row first, left node first:\n"
        + string.Join('\n', Enumerable.Range(0, mesh.Rows).Select(row => string.Join(
            "  ", mesh.Heights.Skip(row * mesh.Columns).Take(mesh.Columns).Select(height => height.ToString("+0.000;-0.000; 0.000", CultureInfo.InvariantCulture)))));

    /// <summary>Lines for a controller that forgets, and where they go.</summary>
    public static string Paste(ImmutableArray<string> lines) =>
        "This controller forgets its mesh when it is switched off. Paste these lines into the slicer's start code, after the line that homes and before the first move over the bed:\n"
        + string.Join('\n', lines);

    /// <summary>The line that switches the mesh on, where it goes, and why.</summary>
    public static string StartCode(string line) => line.Length == 0
        ? "This controller has no line that switches its mesh on; see at its own screen that correction is on before you print."
        : $"Copy this into the slicer's start code, right after the line that homes: {line.Replace("\n", " then ", StringComparison.Ordinal)}. Homing switches the correction off, so before it the line would be undone, and without it the mesh is not used.";

    /// <summary>A mesh in a few words.</summary>
    public static string Described(MeshNodes? mesh) => mesh is null
        ? "none"
        : FormattableString.Invariant($"{mesh.Columns} x {mesh.Rows} nodes, {mesh.Heights.Min():0.000} to {mesh.Heights.Max():0.000} mm");
}
