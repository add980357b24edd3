namespace ProbeRunner.Metrology.Screws;

/// <summary>A screw that carries the bed.</summary>
/// <param name="Name">"front left" and the like.</param>
/// <param name="X">Place, mm.</param>
/// <param name="Y">Place, mm.</param>
/// <param name="PitchMm">Thread pitch, mm a turn; ISO 261 coarse: M3 0.5, M4 0.7, M5 0.8.</param>
/// <param name="ClockwiseRaises">Whether a clockwise turn, seen from above, raises the bed.</param>
public sealed record AdjustingScrew(string Name, double X, double Y, double PitchMm, bool ClockwiseRaises)
{
    /// <summary>Rise of the bed at the screw, mm, for a number of turns, clockwise seen from above counted positive.</summary>
    public double RiseMm(double clockwiseTurns) => (ClockwiseRaises ? PitchMm : -PitchMm) * clockwiseTurns;

    /// <summary>Turns, clockwise seen from above counted positive, that raise the bed at the screw by so many mm.</summary>
    public double TurnsFor(double riseMm) => riseMm / (ClockwiseRaises ? PitchMm : -PitchMm);
}
