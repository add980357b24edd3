using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Procedures.Scripts;

namespace ProbeRunner.Procedures.Steps.Restoring;

/// <summary>What is to be put back. It travels in the script's text, so that the record of the restoring run says it whole.</summary>
/// <param name="Run">The run at whose preflight it was found.</param>
/// <param name="Offset">The probe offset.</param>
/// <param name="Mesh">The correction mesh; null when the controller had none or could not say.</param>
/// <param name="Switches">What a run that was cut off may have left switched.</param>
public sealed record RestoreParameters(string Run, ProbeOffset Offset, MeshNodes? Mesh, SwitchesAsFound Switches)
{
    private const double LargestMm = 2000;
    private const int MostNodes = 2500;
    private const double FastestMmPerMin = 100_000;
    private const string On = "on";
    private const string Off = "off";
    private const string AsIs = "as-is";
    private static readonly Dictionary<string, string> Positions = new[] { On, Off, AsIs }.ToDictionary(word => word);

    /// <summary>What a run found at its preflight and when it began.</summary>
    /// <param name="run">The run's id.</param>
    /// <param name="found">What its preflight concluded.</param>
    /// <param name="entries">Its journal, in order.</param>
    public static RestoreParameters Of(string run, PreflightConclusion found, ImmutableArray<JournalEntry> entries)
    {
        ArgumentNullException.ThrowIfNull(found);
        return new RestoreParameters(run, found.OffsetBefore, found.MeshBefore, SwitchesAsFound.In(entries));
    }

    /// <summary>The script of the run that puts it back.</summary>
    public RunScript Script()
    {
        var text = new StringBuilder("title = \"Put settings back\"\npurpose = \"The controller's settings as an earlier run found them.\"\n\n")
            .Append("[[step]]\ndo = \"preflight\"\nquestions = false\n\n[[step]]\ndo = \"restore-settings\"\n")
            .Append(CultureInfo.InvariantCulture, $"run = \"{Run}\"\noffset_mm = {List([Offset.X, Offset.Y, Offset.Z])}\n");
        AppendSwitches(text);
        if (Mesh is { } mesh)
        {
            text.Append(CultureInfo.InvariantCulture, $"columns = {mesh.Columns}\nrows = {mesh.Rows}\narea_mm = {List([mesh.Area.MinX, mesh.Area.MinY, mesh.Area.MaxX, mesh.Area.MaxY])}\n")
                .Append(CultureInfo.InvariantCulture, $"nodes_mm = {List(mesh.Heights)}\n");
        }

        return RunScript.Parse(text.ToString(), "restore");
    }

    /// <summary>
    /// Keys: <c>run</c>; <c>offset_mm = [x, y, z]</c>; for a mesh <c>columns</c>, <c>rows</c>, <c>area_mm</c> and <c>nodes_mm</c>, front row first;
    /// for switches <c>mesh_correction</c> and <c>travel_limits</c> ("on", "off" or "as-is") and <c>highest_z_feed_mm_per_min</c> (0 for as it is).
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
        double feed = section.Number("highest_z_feed_mm_per_min", 0, FastestMmPerMin, 0);
        var switches = new SwitchesAsFound(
            Position(section.OneOf("mesh_correction", Positions, AsIs)),
            Position(section.OneOf("travel_limits", Positions, AsIs)),
            feed > 0 ? feed : null);
        return offset.Length == 3 ? new RestoreParameters(run, new ProbeOffset(offset[0], offset[1], offset[2]), mesh, switches) : null;
    }

    private static bool? Position(string word) => word == AsIs ? null : word == On;

    private void AppendSwitches(StringBuilder text)
    {
        if (Switches.MeshCorrectionOn is { } correction)
        {
            text.Append(CultureInfo.InvariantCulture, $"mesh_correction = \"{(correction ? On : Off)}\"\n");
        }

        if (Switches.SoftLimitsOn is { } limits)
        {
            text.Append(CultureInfo.InvariantCulture, $"travel_limits = \"{(limits ? On : Off)}\"\n");
        }

        if (Switches.ZFeedMmPerMin is { } feed)
        {
            text.Append(CultureInfo.InvariantCulture, $"highest_z_feed_mm_per_min = {feed:0.0###}\n");
        }
    }

    private static string List(IEnumerable<double> numbers) =>
        $"[{string.Join(", ", numbers.Select(number => number.ToString("0.0###", CultureInfo.InvariantCulture)))}]";
}
