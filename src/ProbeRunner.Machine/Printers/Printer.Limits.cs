using ProbeRunner.Machine.Dialects;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Settings;

namespace ProbeRunner.Machine.Printers;

/// <summary>The travel that the controller allows by itself.</summary>
public sealed partial class Printer
{
    /// <inheritdoc />
    public async Task<TravelLimits?> ReadTravelLimitsAsync(CancellationToken cancel)
    {
        TravelLimits? limits = null;
        await TryAsync(Verb.SoftLimits, async () =>
            limits = _reader.TravelLimits(await _session.AskUntilAgreedAsync(Verb.SoftLimits, _options.AttemptsToAgree, cancel)));
        if (limits is null)
        {
            return null;
        }

        (double x, double y) = (Profile.Bed.ControllerOriginX, Profile.Bed.ControllerOriginY);
        BedRectangle nozzle = limits.Nozzle;
        return limits with { Nozzle = new BedRectangle(nozzle.MinX - x, nozzle.MinY - y, nozzle.MaxX - x, nozzle.MaxY - y) };
    }
}
