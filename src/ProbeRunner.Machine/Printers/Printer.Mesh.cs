using System.Collections.Immutable;
using System.Globalization;
using ProbeRunner.Machine.Dialects;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Guard;
using ProbeRunner.Machine.Settings;

namespace ProbeRunner.Machine.Printers;

/// <summary>The controller's correction mesh: read until two reports agree, written node by node and read back.</summary>
public sealed partial class Printer
{
    /// <inheritdoc />
    public string MeshStartCodeLine => _session.Has(Verb.MeshOn) ? string.Join('\n', _dialect.Commands(Verb.MeshOn).Select(line => line.Text)) : string.Empty;

    /// <inheritdoc />
    public async Task<MeshNodes?> ReadMeshAsync(CancellationToken cancel) => (await ReadMeshRoundedAsync(cancel)).Mesh;

    /// <inheritdoc />
    public async Task<MeshNodes> WriteMeshAsync(MeshNodes mesh, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(mesh);
        if (mesh.Heights.Length != mesh.Columns * mesh.Rows || mesh.Heights.Any(height => !(Math.Abs(height) <= 5)))
        {
            throw new ArgumentException("A mesh has columns x rows heights, each from -5 to 5 mm.", nameof(mesh));
        }

        // What is in force while nodes change is not known.
        bool? wasOn = Now.MeshCorrectionOn;
        if (wasOn != false)
        {
            await SetMeshCorrectionAsync(on: false, cancel);
        }

        for (int row = 0; row < mesh.Rows; row++)
        {
            for (int column = 0; column < mesh.Columns; column++)
            {
                await _session.SendAsync(
                    Verb.WriteMeshNode, cancel, ("column", column), ("row", row), ("z", mesh.Heights[(row * mesh.Columns) + column]));
            }
        }

        (MeshNodes? found, double rounding) = await ReadMeshRoundedAsync(cancel);
        if (found is null)
        {
            throw new ReportUnreadableException("the correction mesh", string.Empty);
        }

        RequireSame(mesh, found, rounding + (0.5 * Math.Pow(10, -_dialect.DecimalsOf(Verb.WriteMeshNode, "z"))));
        return found;
    }

    /// <inheritdoc />
    public ImmutableArray<string> LinesThatSet(MeshNodes mesh)
    {
        ArgumentNullException.ThrowIfNull(mesh);
        return !_dialect.Has(Verb.WriteMeshNode)
            ? []
            : [.. Enumerable.Range(0, mesh.Heights.Length).SelectMany(node => _dialect.Commands(
                Verb.WriteMeshNode, ("column", node % mesh.Columns), ("row", node / mesh.Columns), ("z", mesh.Heights[node])).Select(line => line.Text))];
    }

    /// <inheritdoc />
    public async Task<MeshNodes?> ProbeOwnMeshAsync(CancellationToken cancel)
    {
        if (!_session.Has(Verb.ProbeMesh))
        {
            throw new NotAbleException("probe a mesh of its own");
        }

        await PrepareMotionAsync(cancel);
        await RaiseToClearanceAsync(cancel);
        MeshNodes? before = await ReadMeshAsync(cancel);
        (BedRectangle area, int columns, int rows) = before is null
            ? (Profile.Mesh.Area, Profile.Mesh.Columns, Profile.Mesh.Rows)
            : (before.Area, before.Columns, before.Rows);
        for (int node = 0; node < columns * rows; node++)
        {
            Require(new MotionRequest.Touch(new BedPoint(
                area.MinX + ((area.MaxX - area.MinX) * (node % columns) / (columns - 1)), area.MinY + ((area.MaxY - area.MinY) * (node / columns) / (rows - 1)))));
        }

        await MoveAsync(Verb.ProbeMesh, cancel);
        await RecoverPositionAsync(cancel);
        await SetMeshCorrectionAsync(on: false, cancel);
        return await ReadMeshAsync(cancel);
    }

    private async Task<(MeshNodes? Mesh, double RoundingMm)> ReadMeshRoundedAsync(CancellationToken cancel)
    {
        if (!_session.Has(Verb.ReadMesh))
        {
            return (null, 0);
        }

        try
        {
            ImmutableArray<string> lines = await _session.AskUntilAgreedAsync(Verb.ReadMesh, _options.AttemptsToAgree, cancel);
            (ImmutableArray<ImmutableArray<double>> rows, double rounding) = _reader.Mesh(lines);
            BedRectangle area = _reader.MeshArea(lines) is { IsEmpty: false } asked
                ? asked.Shift(-Profile.Bed.ControllerOriginX, -Profile.Bed.ControllerOriginY)
                : Profile.Mesh.Area;
            bool isGrid = rows.Length >= 2 && rows[0].Length >= 2 && rows.All(row => row.Length == rows[0].Length);
            return isGrid
                ? (new MeshNodes(area, rows[0].Length, rows.Length, [.. rows.SelectMany(row => row)]), rounding)
                : (null, 0);
        }
        catch (NotAbleException)
        {
            return (null, 0);
        }
    }

    private static void RequireSame(MeshNodes wanted, MeshNodes found, double toleranceMm)
    {
        if (found.Columns != wanted.Columns || found.Rows != wanted.Rows)
        {
            throw new ReportsDisagreeException(
                "the correction mesh",
                string.Create(CultureInfo.InvariantCulture, $"{wanted.Columns} x {wanted.Rows} nodes"),
                string.Create(CultureInfo.InvariantCulture, $"{found.Columns} x {found.Rows} nodes"));
        }

        for (int node = 0; node < wanted.Heights.Length; node++)
        {
            if (Math.Abs(wanted.Heights[node] - found.Heights[node]) > toleranceMm + 1e-9)
            {
                throw new ReportsDisagreeException(
                    string.Create(CultureInfo.InvariantCulture, $"the mesh node in column {node % wanted.Columns + 1}, row {node / wanted.Columns + 1}"),
                    string.Create(CultureInfo.InvariantCulture, $"{wanted.Heights[node]:0.####}"),
                    string.Create(CultureInfo.InvariantCulture, $"{found.Heights[node]:0.####}"));
            }
        }
    }
}
