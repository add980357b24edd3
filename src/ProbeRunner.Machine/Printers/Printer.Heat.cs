using ProbeRunner.Machine.Dialects;
using ProbeRunner.Machine.Heat;

namespace ProbeRunner.Machine.Printers;

/// <summary>Heaters and temperatures. The forms that wait inside the controller are never sent: they would block everything else.</summary>
public sealed partial class Printer
{
    /// <summary>A sensor that is torn off or shorted reads far outside this, degC.</summary>
    private const double LeastPlausible = -40;

    private const double MostPlausible = 500;

    private volatile bool _nozzleWasAsked;
    private volatile bool _bedWasAsked;

    /// <inheritdoc />
    public bool MayBeHeating => _nozzleWasAsked || _bedWasAsked || Now.Temperatures is { HeatersOff: false };

    /// <inheritdoc />
    public async Task<Temperatures> ReadTemperaturesAsync(CancellationToken cancel)
    {
        await _session.BeginAsync(evenUntold: true, cancel);
        for (int asked = 0; asked < _options.AttemptsToAgree; asked++)
        {
            if (TemperaturesIn(await _session.SendAsync(Verb.Temperatures, cancel)) is { } found && IsPlausible(found))
            {
                _state.Heard(found);
                return found;
            }
        }

        throw new ReportUnreadableException("the temperatures", string.Empty);
    }

    /// <inheritdoc />
    public async Task SetHeaterTargetsAsync(double? nozzleCelsius, double? bedCelsius, CancellationToken cancel)
    {
        RequireWithin("nozzle", nozzleCelsius, Profile.Heat.NozzleCapCelsius);
        RequireWithin("bed", bedCelsius, Profile.Heat.BedCapCelsius);
        _nozzleWasAsked |= nozzleCelsius > 0;
        _bedWasAsked |= bedCelsius > 0;
        if (nozzleCelsius is double nozzle)
        {
            await _session.SendAsync(Verb.NozzleTarget, cancel, ("celsius", nozzle));
            _nozzleWasAsked = nozzle > 0;
        }

        if (bedCelsius is double bed)
        {
            await _session.SendAsync(Verb.BedTarget, cancel, ("celsius", bed));
            _bedWasAsked = bed > 0;
        }
    }

    /// <inheritdoc />
    public async Task<Temperatures> HeatersOffAsync(CancellationToken cancel)
    {
        if (_session.IsBrokenOff)
        {
            // The controller may be busy for a while with what was given up; this does not wait for it. What follows reads it back.
            _session.Interject(Verb.NozzleTarget, ("celsius", 0));
            _session.Interject(Verb.BedTarget, ("celsius", 0));
        }

        Temperatures found = default;
        const int Attempts = 3;
        for (int attempt = 0; attempt < Attempts; attempt++)
        {
            await _session.BeginAsync(evenUntold: true, cancel);
            await SetHeaterTargetsAsync(0, 0, cancel);
            found = await ReadTemperaturesAsync(cancel);
            if (found.HeatersOff)
            {
                return found;
            }
        }

        throw new ReportsDisagreeException(
            "the heaters",
            "both off",
            FormattableString.Invariant($"nozzle target {found.NozzleTargetCelsius:0.#}, bed target {found.BedTargetCelsius:0.#} degC"));
    }

    /// <inheritdoc />
    public bool InterjectHeatersOff()
    {
        if (!MayBeHeating)
        {
            return false;
        }

        return _session.Interject(Verb.NozzleTarget, ("celsius", 0)) & _session.Interject(Verb.BedTarget, ("celsius", 0));
    }

    private static void RequireWithin(string heater, double? celsius, double cap)
    {
        if (celsius is double target && !(target >= 0 && target <= cap))
        {
            throw new HeatRefusedException(heater, target, cap);
        }
    }

    private static bool IsPlausible(Temperatures found) =>
        found.NozzleCelsius is > LeastPlausible and < MostPlausible && found.BedCelsius is > LeastPlausible and < MostPlausible;
}
