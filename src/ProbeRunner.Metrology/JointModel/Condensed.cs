using ProbeRunner.Metrology.Planes;

namespace ProbeRunner.Metrology.JointModel;

/// <summary>Very many readings at any places, neighbours of one epoch averaged, so that the covariance matrix stays bounded.</summary>
internal static class Condensed
{
    private const int CellsPerSide = 40;

    /// <summary>The means of the cells of a lattice over the bed, with how many readings each is the mean of.</summary>
    public static (IReadOnlyList<CaptureReading> Means, double[] Repeats) Of(IReadOnlyList<CaptureReading> readings, Box bed)
    {
        List<CaptureReading[]> cells = [.. readings.GroupBy(r => (Cell(bed.U(r.X)), Cell(bed.V(r.Y)), r.Epoch)).Select(cell => cell.ToArray())];
        return (
            [.. cells.Select(cell => new CaptureReading(
                cell.Average(r => r.X), cell.Average(r => r.Y), cell.Average(r => r.Z), cell.Average(r => r.TimeSeconds), cell[0].Epoch))],
            [.. cells.Select(cell => (double)cell.Length)]);
    }

    private static int Cell(double scaled) => (int)Math.Clamp(Math.Floor((scaled + 1) / 2 * CellsPerSide), 0, CellsPerSide - 1);
}
