using ProbeRunner.SimulatedPrinter.Scenarios;

namespace ProbeRunner.SimulatedPrinter.Physics;

/// <summary>What heat and time do to heights. Follows the machine's working time only, never a clock on the wall, so that a line sent again changes no reading.</summary>
internal sealed class Expansion(HeatScenario heat, double driftMmPerHour)
{
    private const double LongestStepSeconds = 5;

    private readonly Heater _nozzle = new(heat.AmbientCelsius, heat.NozzleKelvinPerSecond);
    private readonly Heater _bed = new(heat.AmbientCelsius, heat.BedKelvinPerSecond);
    private double _bedSoakedKelvin;

    /// <summary>Working time of the machine, s.</summary>
    public double Seconds { get; private set; }

    public double NozzleTargetCelsius { get; set; }

    public double BedTargetCelsius { get; set; }

    /// <summary>How much longer the nozzle is than cold, mm.</summary>
    public double NozzleMm => heat.NozzleMmPerKelvin * (_nozzle.Celsius - heat.AmbientCelsius);

    /// <summary>How much higher the plate is than when cold and new, at u, v in -1..1, mm.</summary>
    public double BedMm(double u, double v)
    {
        var rise = (heat.BedMmPerKelvin * _bedSoakedKelvin) + (driftMmPerHour * Seconds / 3600);
        return heat.BedDomeMmPerKelvin == 0 ? rise : rise + (heat.BedDomeMmPerKelvin * _bedSoakedKelvin * (1 - (((u * u) + (v * v)) / 2)));
    }

    public void Advance(double seconds)
    {
        Seconds += seconds;
        if (_bedSoakedKelvin == 0 && _nozzle.IsSettled(NozzleTargetCelsius) && _bed.IsSettled(BedTargetCelsius) && BedTargetCelsius == 0)
        {
            return;
        }

        for (var left = seconds; left > 0; left -= LongestStepSeconds)
        {
            var step = Math.Min(left, LongestStepSeconds);
            _nozzle.Advance(step, NozzleTargetCelsius);
            _bed.Advance(step, BedTargetCelsius);
            var above = _bed.Celsius - heat.AmbientCelsius;
            _bedSoakedKelvin += (above - _bedSoakedKelvin) * (1 - Math.Exp(-step / heat.BedLagSeconds));
            _bedSoakedKelvin = above == 0 && _bedSoakedKelvin < 1e-6 ? 0 : _bedSoakedKelvin;
        }
    }
}
