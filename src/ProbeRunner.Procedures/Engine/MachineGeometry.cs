using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Printers;
using ProbeRunner.Machine.Settings;

namespace ProbeRunner.Procedures.Engine;

/// <summary>What ties the places and heights of a run to its machine, as far as the controller says it. With another, the same numbers mean other places.</summary>
/// <param name="StepsPerMm">By which the motors turn into millimetres, by setting, with the unit.</param>
/// <param name="Limits">The travel that the controller allows; null where it doesn't say.</param>
/// <param name="Offset">The probe offset; null where it doesn't say.</param>
public sealed record MachineGeometry(ImmutableSortedDictionary<string, string> StepsPerMm, TravelLimits? Limits, ProbeOffset? Offset)
{
    private const string StepsSetting = "steps per mm";

    /// <summary>Reports round; a change that is meant is larger, mm.</summary>
    private const double RoundingMm = 0.0051;

    /// <summary>Asks a machine. Nothing moves.</summary>
    public static async Task<MachineGeometry> ReadAsync(IPrinter printer, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(printer);
        return Of(await printer.ReadSettingsAsync(cancel)) with { Limits = await printer.ReadTravelLimitsAsync(cancel), Offset = await OffsetAsync(printer, cancel) };
    }

    /// <summary>As far as a settings report tells it.</summary>
    internal static MachineGeometry Of(SettingsReport settings) =>
        new(settings.Values.Where(setting => setting.Key.StartsWith(StepsSetting, StringComparison.Ordinal)).ToImmutableSortedDictionary(), null, null);

    /// <summary>In what a machine differs now, the probe offset left out, a sentence's part each; what either doesn't say is no difference.</summary>
    internal IEnumerable<string> ChangesTo(MachineGeometry now)
    {
        foreach ((string setting, string then) in StepsPerMm)
        {
            if (now.StepsPerMm.TryGetValue(setting, out string? value) && value != then)
            {
                yield return $"{setting} was {then}, now {value}";
            }
        }

        if (Limits is { } before && now.Limits is { } limits && !IsSame(before, limits))
        {
            yield return $"the travel that the controller allows was {Words(before)}, now {Words(limits)}";
        }
    }

    /// <summary>Whether two reports of a probe offset mean the same one.</summary>
    internal static bool IsSame(ProbeOffset one, ProbeOffset other) => IsNear(one.X, other.X) && IsNear(one.Y, other.Y) && IsNear(one.Z, other.Z);

    private static bool IsSame(TravelLimits one, TravelLimits other)
    {
        (BedRectangle then, BedRectangle now) = (one.Nozzle, other.Nozzle);
        return IsNear(then.MinX, now.MinX) && IsNear(then.MinY, now.MinY) && IsNear(then.MaxX, now.MaxX) && IsNear(then.MaxY, now.MaxY)
            && IsNear(one.LowestZ, other.LowestZ) && IsNear(one.HighestZ, other.HighestZ);
    }

    private static bool IsNear(double one, double other) => Math.Abs(one - other) <= RoundingMm;

    private static async Task<ProbeOffset?> OffsetAsync(IPrinter printer, CancellationToken cancel)
    {
        try
        {
            return await printer.ReadProbeOffsetAsync(cancel);
        }
        catch (NotAbleException)
        {
            return null;
        }
    }

    private static string Words(TravelLimits limits)
    {
        BedRectangle at = limits.Nozzle;
        return FormattableString.Invariant($"X {at.MinX:0.##} to {at.MaxX:0.##}, Y {at.MinY:0.##} to {at.MaxY:0.##}, Z {limits.LowestZ:0.##} to {limits.HighestZ:0.##} mm");
    }
}
