using System.CommandLine;
using ProbeRunner.Console.Analyse.Results;
using ProbeRunner.Console.Analyse.Tables;
using ProbeRunner.Metrology.Meshes;
using ProbeRunner.Metrology.Planes;
using ProbeRunner.Metrology.Shapes;
using ProbeRunner.Metrology.Surfaces;

namespace ProbeRunner.Console.Analyse;

/// <summary><c>analyse surface</c>: plane, flatness, shape and how dense a mesh a bed needs.</summary>
internal static class AnalyseSurface
{
    /// <summary>Makes the subcommand.</summary>
    public static Command Create(AnalyseSource source)
    {
        Argument<string> file = AnalyseSource.FileArgument("CSV with the columns x, y, z in mm");
        Option<bool> json = AnalyseOptions.Json();
        Option<double?> tolerance = AnalyseOptions.Number(
            "--tolerance", "MM", "Name the smallest mesh whose worst error is within this.", above: 0);
        var command = new Command(
            "surface",
            """
            Tilt, flatness and shape of readings over a bed, and, when they form a grid, what sparser meshes would have left.

            Example:
              proberunner analyse surface bed.csv --tolerance 0.03
            """)
        {
            file, tolerance, json,
        };
        command.SetAnalysis((parsed, output) =>
        {
            string path = parsed.GetRequiredValue(file);
            Table table = source.Table(path);
            SurfacePoint[] points = [.. table.Numbers(table.Columns("x", "y", "z")).Select(row => new SurfacePoint(row[0], row[1], row[2]))];
            SurfaceAnalysis analysis = AnswerFromFile.Of(SurfaceAnalysis.Analyse(points), table.File);
            if (parsed.GetValue(json))
            {
                WriteJson(output, analysis);
            }
            else
            {
                WriteText(output, table.File, analysis, parsed.GetValue(tolerance));
            }

            return true;
        });
        return command;
    }

    private static void WriteJson(TextWriter output, SurfaceAnalysis analysis) => JsonOutput.Write(output, new
    {
        analysis.Count,
        Plane = new { a = analysis.Plane.Plane.A, b = analysis.Plane.Plane.B, c = analysis.Plane.Plane.C },
        analysis.Rms,
        analysis.LeastSquaresFlatness,
        MinimumZone = new
        {
            a = analysis.MinimumZone.MidPlane.A,
            b = analysis.MinimumZone.MidPlane.B,
            c = analysis.MinimumZone.MidPlane.C,
            analysis.MinimumZone.Width,
        },
        Shape = analysis.Shape is { } shape
            ? new
            {
                TiltX = shape.TiltX.Coefficient,
                TiltY = shape.TiltY.Coefficient,
                BowX = shape.BowX.Coefficient,
                BowY = shape.BowY.Coefficient,
                Twist = shape.Twist.Coefficient,
            }
            : null,
        MeshAdequacy = analysis.MeshAdequacy.Select(mesh => new { mesh.Columns, mesh.Rows, mesh.Rms, mesh.Worst }),
    });

    private static void WriteText(TextWriter output, string name, SurfaceAnalysis analysis, double? tolerance)
    {
        output.WriteLine(FormattableString.Invariant($"{name}: {analysis.Count} readings"));
        Plane plane = analysis.Plane.Plane;
        var table = new TextTable();
        table.Add("slope along X", 1000 * plane.A, "mm per m");
        table.Add("slope along Y", 1000 * plane.B, "mm per m");
        table.Add("height at the origin", plane.C, "mm");
        table.Add("rms about the plane", analysis.Rms, "mm");
        table.Add("flatness, least squares", analysis.LeastSquaresFlatness, "mm");
        table.Add("flatness, minimum zone", analysis.MinimumZone.Width, "mm");
        table.Write(output);
        if (analysis.Shape is { } shape)
        {
            WriteShape(output, shape);
        }
        else
        {
            output.WriteLine("Tilt, bow and twist are not told apart by these places; three columns and three rows are needed.");
        }

        WriteMeshes(output, analysis, tolerance);
    }

    private static void WriteShape(TextWriter output, ShapeTerms shape)
    {
        output.WriteLine("Shape over the readings' box, with standard error:");
        var table = new TextTable();
        (string Name, ShapeTerm Term)[] terms =
            [("tilt X", shape.TiltX), ("tilt Y", shape.TiltY), ("bow X", shape.BowX), ("bow Y", shape.BowY), ("twist", shape.Twist)];
        foreach ((string name, ShapeTerm term) in terms)
        {
            table.Add(name, $"{Figure.Of(term.Coefficient)} mm, +- {Figure.Of(term.StandardError)}");
        }

        table.Write(output);
    }

    private static void WriteMeshes(TextWriter output, SurfaceAnalysis analysis, double? tolerance)
    {
        if (analysis.MeshAdequacy.IsEmpty)
        {
            output.WriteLine("No sparser mesh can be judged: the readings form no full grid, or one that can't be thinned evenly.");
            return;
        }

        output.WriteLine("What a sparser mesh would have left of these readings:");
        var table = new TextTable();
        foreach (MeshAdequacy mesh in analysis.MeshAdequacy)
        {
            table.Add(Size(mesh), $"rms {Figure.Of(mesh.Rms)} mm, worst {Figure.Of(mesh.Worst)} mm");
        }

        table.Write(output);
        if (tolerance is { } allowed)
        {
            MeshAdequacy? smallest = analysis.MeshAdequacy.Where(mesh => mesh.Worst <= allowed).Cast<MeshAdequacy?>().MinBy(mesh => mesh!.Value.Columns * mesh.Value.Rows);
            output.WriteLine(smallest is { } enough
                ? $"Smallest of these within {Figure.Of(allowed)} mm everywhere: {Size(enough)}."
                : $"None of these stays within {Figure.Of(allowed)} mm everywhere; the bed needs a denser mesh.");
        }
    }

    private static string Size(MeshAdequacy mesh) => FormattableString.Invariant($"{mesh.Columns} x {mesh.Rows}");
}
