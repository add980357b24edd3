namespace ProbeRunner.Procedures.Watches;

/// <summary>
/// Judges one heater's reports. Received lines carry no checksum, so one report alone is only a suspicion: it takes the same from two
/// in a row. The limits are common practice, no source.
/// </summary>
/// <param name="heater">"nozzle" or "bed".</param>
/// <param name="capCelsius">The profile's cap.</param>
internal sealed class HeaterHistory(string heater, double capCelsius)
{
    private const double Coldest = -10;
    private const double Hottest = 450;

    /// <summary>A sensor that reads this with the heater on is not at the heater.</summary>
    private const double ColdestWhenOn = 3;

    /// <summary>No draught cools a sensor that fast while its heater is on; a heater that is fed by a loose sensor overheats.</summary>
    private const double FastestKelvinPerSecond = 25;

    private const double JumpKelvin = 30;
    private const double AboveCapKelvin = 15;

    /// <summary>A heater overshoots its target by this, and goes on rising by this when its target falls.</summary>
    private const double OvershootKelvin = 25;

    private const double UnaskedKelvin = 10;
    private const double WarmToTheTouch = 45;

    private const double FarFromTargetKelvin = 15;
    private const double LeastRiseKelvin = 3;
    private static readonly TimeSpan RiseWithin = TimeSpan.FromMinutes(3);

    private (double Celsius, DateTimeOffset At)? _believed;
    private double _target;
    private double _lowestSinceTarget = double.PositiveInfinity;
    private (double Celsius, DateTimeOffset At)? _rise;
    private string? _suspicion;

    /// <summary>Takes a report.</summary>
    /// <returns>What is wrong, in a sentence, when this and the report before say so; null when all is well or not yet sure.</returns>
    public string? Take(double celsius, double target, DateTimeOffset at)
    {
        if (target != _target)
        {
            (_target, _lowestSinceTarget, _rise) = (target, double.PositiveInfinity, null);
        }

        (string? kind, string says) = Doubt(celsius, at);
        bool isSure = kind is not null && kind == _suspicion;
        _suspicion = kind;
        if (kind is null)
        {
            _believed = (celsius, at);
            _lowestSinceTarget = Math.Min(_lowestSinceTarget, celsius);
        }

        return isSure ? says : null;
    }

    /// <summary>Whether the last report was doubted: the next should be asked for soon.</summary>
    public bool IsInDoubt => _suspicion is not null;

    private (string? Kind, string Says) Doubt(double celsius, DateTimeOffset at)
    {
        if (celsius is < Coldest or > Hottest || (_target > 0 && celsius < ColdestWhenOn))
        {
            return ("implausible", Words($"reads {celsius:0} degC, which it cannot be. Its sensor is broken, unplugged or not at the heater."));
        }

        if (_believed is { } before && celsius < _target - JumpKelvin
            && before.Celsius - celsius > JumpKelvin + (FastestKelvinPerSecond * Math.Max(0, (at - before.At).TotalSeconds)))
        {
            return ("jump", Words($"fell from {before.Celsius:0} to {celsius:0} degC at once. Its sensor or its plug is loose."));
        }

        if (celsius > capCelsius + AboveCapKelvin)
        {
            return ("cap", Words($"is at {celsius:0} degC, above its cap of {capCelsius:0}."));
        }

        double overshoot = _target > 0 ? _target + OvershootKelvin : WarmToTheTouch;
        if (celsius > Math.Max(overshoot, _lowestSinceTarget + UnaskedKelvin))
        {
            return ("unasked", _target > 0
                ? Words($"rose to {celsius:0} degC although only {_target:0} was asked for.")
                : Words($"rose to {celsius:0} degC although its heater is switched off."));
        }

        return DoubtOfRise(celsius, at);
    }

    private (string? Kind, string Says) DoubtOfRise(double celsius, DateTimeOffset at)
    {
        if (_target - celsius <= FarFromTargetKelvin)
        {
            _rise = null;
            return default;
        }

        if (_rise is not { } since || celsius >= since.Celsius + LeastRiseKelvin)
        {
            _rise = (celsius, at);
            return default;
        }

        return at - since.At > RiseWithin
            ? ("no-rise", Words($"does not get warmer: {celsius:0} degC, {_target:0} asked for. Its heater is broken, or its sensor is not at the heater."))
            : default;
    }

    private string Words(FormattableString rest) => $"The {heater} {FormattableString.Invariant(rest)}";
}
