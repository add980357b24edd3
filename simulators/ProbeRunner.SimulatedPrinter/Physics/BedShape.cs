using ProbeRunner.SimulatedPrinter.Scenarios;

namespace ProbeRunner.SimulatedPrinter.Physics;

/// <summary>The plate's own shape, cold and with untouched screws: a height over every place, mm, 0 being a flat and level plate.</summary>
internal sealed class BedShape
{
    // A Gaussian's full width at half maximum is 2 sqrt(2 ln 2) of its standard deviations.
    private const double WidthPerSigma = 2.3548200450309493;

    private readonly BedScenario _bed;
    private readonly double _rippleX;
    private readonly double _rippleY;
    private readonly (double X, double Y, double HeightMm, double InverseTwoVariance)[] _bumps;

    public BedShape(BedScenario bed)
    {
        _bed = bed;
        var direction = bed.RippleDirectionDegrees * Math.PI / 180;
        _rippleX = 2 * Math.PI / bed.RipplePeriodMm * Math.Cos(direction);
        _rippleY = 2 * Math.PI / bed.RipplePeriodMm * Math.Sin(direction);
        _bumps = [.. bed.Bumps.Select(bump =>
        {
            var sigma = bump.WidthMm / WidthPerSigma;
            return (bump.X, bump.Y, bump.HeightMm, 1 / (2 * sigma * sigma));
        })];
    }

    public double U(double x) => (2 * x / _bed.WidthMm) - 1;

    public double V(double y) => (2 * y / _bed.DepthMm) - 1;

    public double HeightAt(double x, double y)
    {
        var (u, v) = (U(x), V(y));
        var height = (_bed.FurtherHeight?.Invoke(x, y) ?? 0) + (_bed.TiltXMm * u / 2) + (_bed.TiltYMm * v / 2)
            + (_bed.BowXMm * ((u * u) - (1.0 / 3))) + (_bed.BowYMm * ((v * v) - (1.0 / 3))) + (_bed.TwistMm * u * v);
        foreach (var bump in _bumps)
        {
            var (dx, dy) = (x - bump.X, y - bump.Y);
            height += bump.HeightMm * Math.Exp(-((dx * dx) + (dy * dy)) * bump.InverseTwoVariance);
        }

        return _bed.RippleMm == 0 ? height : height + (_bed.RippleMm / 2 * Math.Sin((_rippleX * x) + (_rippleY * y)));
    }
}
