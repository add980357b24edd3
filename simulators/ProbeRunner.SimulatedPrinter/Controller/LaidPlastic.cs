using ProbeRunner.SimulatedPrinter.Scenarios;

namespace ProbeRunner.SimulatedPrinter.Controller;

/// <summary>What was laid on the plate: the gap under the nozzle where plastic came out, by place.</summary>
internal sealed class LaidPlastic(PersonScenario person)
{
    private const double NearMm = 8;
    private const double CellMm = 4;
    private readonly Dictionary<(int, int), double> _gaps = [];

    /// <summary>Plastic came out at a place in bed coordinates, over a gap, mm.</summary>
    public void Lay(double x, double y, double gapMm) => _gaps[Cell(x, y)] = gapMm;

    /// <summary>How a patch near a place looks.</summary>
    public string LookAt(double x, double y)
    {
        var reach = (int)Math.Ceiling(NearMm / CellMm);
        var (column, row) = Cell(x, y);
        var (sum, count) = (0.0, 0);
        for (var across = -reach; across <= reach; across++)
        {
            for (var along = -reach; along <= reach; along++)
            {
                if (_gaps.TryGetValue((column + across, row + along), out var gap))
                {
                    (sum, count) = (sum + gap, count + 1);
                }
            }
        }

        return count == 0 ? "nothing" : (sum / count) switch
        {
            var mean when mean > person.GapsAboveMm => "gaps",
            var mean when mean < person.RidgesBelowMm => "ridges",
            _ => "good",
        };
    }

    private static (int Column, int Row) Cell(double x, double y) => ((int)Math.Floor(x / CellMm), (int)Math.Floor(y / CellMm));
}
