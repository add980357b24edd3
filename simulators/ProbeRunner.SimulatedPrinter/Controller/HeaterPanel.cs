using ProbeRunner.SimulatedPrinter.Physics;
using ProbeRunner.SimulatedPrinter.Scenarios;

namespace ProbeRunner.SimulatedPrinter.Controller;

/// <summary>
/// The heaters as the controller reads them. Their sensors follow the clock, so that a poll sees them warm up; what heat does
/// to heights follows the machine's working time (<see cref="Expansion"/>), so that it does not depend on how often was polled.
/// </summary>
internal sealed class HeaterPanel(HeatScenario heat, Expansion expansion)
{
    private readonly Heater _nozzle = new(heat.AmbientCelsius, heat.NozzleKelvinPerSecond);
    private readonly Heater _bed = new(heat.AmbientCelsius, heat.BedKelvinPerSecond);
    private TimeSpan _readAt;

    public double NozzleTarget => expansion.NozzleTargetCelsius;

    public double BedTarget => expansion.BedTargetCelsius;

    public bool TrySetNozzle(double celsius, TimeSpan now)
    {
        Follow(now);
        var accepted = celsius >= 0 && celsius <= heat.NozzleLimitCelsius;
        expansion.NozzleTargetCelsius = accepted ? celsius : expansion.NozzleTargetCelsius;
        return accepted;
    }

    public bool TrySetBed(double celsius, TimeSpan now)
    {
        Follow(now);
        var accepted = celsius >= 0 && celsius <= heat.BedLimitCelsius;
        expansion.BedTargetCelsius = accepted ? celsius : expansion.BedTargetCelsius;
        return accepted;
    }

    public void Off(TimeSpan now)
    {
        Follow(now);
        (expansion.NozzleTargetCelsius, expansion.BedTargetCelsius) = (0, 0);
    }

    public string Report(TimeSpan now)
    {
        Follow(now);
        return Wording.Temperatures(
            _nozzle.Celsius, NozzleTarget, _bed.Celsius, BedTarget, NozzleTarget > 0, BedTarget > 0);
    }

    private void Follow(TimeSpan now)
    {
        if (now <= _readAt)
        {
            return; // followed beyond that already, by a report
        }

        var seconds = (now - _readAt).TotalSeconds;
        _nozzle.Advance(seconds, NozzleTarget);
        _bed.Advance(seconds, BedTarget);
        _readAt = now;
    }
}
