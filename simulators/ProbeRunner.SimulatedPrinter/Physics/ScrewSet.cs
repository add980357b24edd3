using System.Collections.Immutable;
using ProbeRunner.SimulatedPrinter.Scenarios;

namespace ProbeRunner.SimulatedPrinter.Physics;

/// <summary>
/// The adjusting screws: how far each has raised the plate, and what that makes of the plate in between. Three screws carry a
/// plane; four also twist the plate (the term xy); with any other number the plate is fixed.
/// </summary>
internal sealed class ScrewSet
{
    private readonly ImmutableArray<ScrewScenario> _screws;
    private readonly double[] _raisedMm;
    private double[] _terms = [];

    public ScrewSet(ImmutableArray<ScrewScenario> screws)
    {
        _screws = screws;
        _raisedMm = new double[screws.Length];
    }

    public IEnumerable<string> Names => _screws.Select(screw => screw.Name);

    /// <summary>Turns a screw; positive is clockwise seen from above.</summary>
    /// <returns>Whether there is such a screw.</returns>
    public bool Turn(string name, double turns)
    {
        for (var index = 0; index < _screws.Length; index++)
        {
            var screw = _screws[index];
            if (string.Equals(screw.Name, name, StringComparison.OrdinalIgnoreCase))
            {
                _raisedMm[index] += turns * screw.PitchMm * (screw.ClockwiseRaises ? 1 : -1);
                _terms = _screws.Length is 3 or 4 ? Solve() : [];
                return true;
            }
        }

        return false;
    }

    public double RaisedAt(double x, double y) => _terms.Length switch
    {
        0 => 0,
        3 => _terms[0] + (_terms[1] * x) + (_terms[2] * y),
        _ => _terms[0] + (_terms[1] * x) + (_terms[2] * y) + (_terms[3] * x * y),
    };

    // Gaussian elimination with row exchange on the few equations "the plate passes through every screw".
    private double[] Solve()
    {
        var size = _screws.Length;
        var rows = new double[size][];
        for (var row = 0; row < size; row++)
        {
            var (x, y) = (_screws[row].X, _screws[row].Y);
            rows[row] = size == 3 ? [1, x, y, _raisedMm[row]] : [1, x, y, x * y, _raisedMm[row]];
        }

        for (var column = 0; column < size; column++)
        {
            var pivot = Enumerable.Range(column, size - column).MaxBy(row => Math.Abs(rows[row][column]));
            (rows[column], rows[pivot]) = (rows[pivot], rows[column]);
            foreach (var row in Enumerable.Range(0, size).Where(row => row != column))
            {
                var factor = rows[row][column] / rows[column][column];
                for (var term = column; term <= size; term++)
                {
                    rows[row][term] -= factor * rows[column][term];
                }
            }
        }

        return [.. Enumerable.Range(0, size).Select(row => rows[row][size] / rows[row][row])];
    }
}
