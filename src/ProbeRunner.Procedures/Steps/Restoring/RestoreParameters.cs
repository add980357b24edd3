using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Scripts;

namespace ProbeRunner.Procedures.Steps.Restoring;

/// <summary>What is to be put back. It travels in the script's text, so that the record of the restoring run says it whole.</summary>
/// <param name="Run">The run at whose preflight it was found.</param>
/// <param name="Offset">The probe offset.</param>
/// <param name="Mesh">The correction mesh; null when the controller had none or could not say.</param>
public sealed record RestoreParameters(string Run, ProbeOffset Offset, MeshNodes? Mesh)
{
    private const double LargestMm = 2000;
    private const int MostNodes = 2500;

    /// <summary>What a run found at its preflight.</summary>
    public static RestoreParameters Of(string run, PreflightConclusion found)
    {
        ArgumentNullException.ThrowIfNull(found);
        return new RestoreParameters(run, found.OffsetBefore, found.MeshBefore);
    }

    /// <summary>The script of the run that puts it back.</summary>
    public RunScript Script()
    {
        var text = new StringBuilder("title = \"Put settings back\"\npurpose = \"The controller's settings as an earlier run found them.\"\n\n")
            .Append("[[step]]\ndo = \"preflight\"\nquestions = false\n\n[[step]]\ndo = \"restore-settings\"\n")
            .Append(CultureInfo.InvariantCulture, $"run = \"{Run}\"\noffset_mm = {List([Offset.X, Offset.Y, Offset.Z])}\n");
        if (Mesh is { } mesh)
        {
            text.Append(CultureInfo.InvariantCulture, $"columns = {mesh.Columns}\nrows = {mesh.Rows}\narea_mm = {List([mesh.Area.MinX, mesh.Area.MinY, mesh.Area.MaxX, mesh.Area.MaxY])}\n")
                .Append(CultureInfo.InvariantCulture, $"nodes_mm = {List(mesh.Heights)}\n");
        }

        return RunScript.Parse(text.ToString(), "restore");
    }

    /// <summary>
    /// Keys: <c>run</c>; <c>offset_mm = [x, y, z]</c>; for a mesh <c>columns</c>, <c>rows</c>, <c>area_mm</c> and <c>nodes_mm</c>, front row first.
    /// Without an offset there is nothing to put back: null.
    /// </summary>
    internal static RestoreParameters? Read(TomlSection section)
    {
        string run = section.Text("run", string.Empty);
        ImmutableArray<double> offset = section.Numbers("offset_mm", "x, y, z", 3, -LargestMm, LargestMm, otherwise: ImmutableArray<double>.Empty);
        int columns = section.Whole("columns", 0, MostNodes, 0), rows = section.Whole("rows", 0, MostNodes, 0);
        ImmutableArray<double> area = section.Numbers("area_mm", "min x, min y, max x, max y", 4, -LargestMm, LargestMm, otherwise: ImmutableArray<double>.Empty);
        ImmutableArray<double> nodes = columns * rows is > 0 and <= MostNodes
            ? section.Numbers("nodes_mm", "node heights, front row first", columns * rows, -10, 10)
            : [];
        MeshNodes? mesh = area.Length == 4 && columns > 1 && rows > 1 && nodes.Length == columns * rows
            ? new MeshNodes(new BedRectangle(area[0], area[1], area[2], area[3]), columns, rows, nodes)
            : null;
        return offset.Length == 3 ? new RestoreParameters(run, new ProbeOffset(offset[0], offset[1], offset[2]), mesh) : null;
    }

    private static string List(IEnumerable<double> numbers) =>
        $"[{string.Join(", ", numbers.Select(number => number.ToString("0.0###", CultureInfo.InvariantCulture)))}]";
}
