using ProbeRunner.Machine.Heat;

namespace ProbeRunner.Procedures.Engine;

/// <summary>
/// Since when the bed has been at its temperature, by the temperature reports of this session, whichever step asked for them. A report that
/// is off its target, or another target, begins the count anew.
/// </summary>
internal sealed class BedWatch
{
    /// <summary>How near to its target the bed counts as at temperature, degC.</summary>
    public const double AtTemperatureCelsius = 3;

    private double _targetCelsius;
    private TimeSpan? _since;

    /// <summary>Takes a report into account.</summary>
    /// <param name="report">The report.</param>
    /// <param name="now">The run's clock.</param>
    public void Saw(Temperatures report, TimeSpan now)
    {
        bool isHot = report.BedTargetCelsius > 0 && Math.Abs(report.BedCelsius - report.BedTargetCelsius) <= AtTemperatureCelsius;
        if (!isHot)
        {
            _since = null;
        }
        else if (_since is null || _targetCelsius != report.BedTargetCelsius)
        {
            (_since, _targetCelsius) = (now, report.BedTargetCelsius);
        }
    }

    /// <summary>How long the bed has been at a temperature; zero when it is not.</summary>
    public TimeSpan Soaked(double bedCelsius, TimeSpan now) => _since is { } since && _targetCelsius == bedCelsius ? now - since : TimeSpan.Zero;
}
