using System.Collections.Immutable;
using ProbeRunner.Machine.Settings;

namespace ProbeRunner.Procedures.Steps.MeshHandOver;

/// <summary>A mesh as written beside the mesh as read back, node by node.</summary>
internal static class NodeComparison
{
    /// <summary>Every node that differs, in words; empty when none does.</summary>
    /// <param name="wanted">As written.</param>
    /// <param name="found">As read back.</param>
    /// <param name="resolutionMm">A difference of up to this is none.</param>
    public static ImmutableArray<string> Differences(MeshNodes wanted, MeshNodes found, double resolutionMm)
    {
        if (found.Columns != wanted.Columns || found.Rows != wanted.Rows)
        {
            return [FormattableString.Invariant($"{wanted.Columns} x {wanted.Rows} nodes were written and {found.Columns} x {found.Rows} read")];
        }

        return
        [
            .. Enumerable.Range(0, wanted.Heights.Length)
                .Where(node => !(Math.Abs(wanted.Heights[node] - found.Heights[node]) <= resolutionMm + 1e-9))
                .Select(node => FormattableString.Invariant(
                    $"column {(node % wanted.Columns) + 1}, row {(node / wanted.Columns) + 1}: {wanted.Heights[node]:+0.000;-0.000;0.000} written, {found.Heights[node]:+0.000;-0.000;0.000} read")),
        ];
    }
}
