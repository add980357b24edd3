using System.Collections.Immutable;
using System.Globalization;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Steps.Preflight;

/// <summary>All that was read of the machine before anything moved.</summary>
internal sealed record MachineAsFound(
    ControllerIdentity Controller,
    SettingsReport Settings,
    ProbeOffset Offset,
    MeshNodes? Mesh,
    MachineLook Look,
    TravelLimits? Limits,
    ImmutableSortedDictionary<string, ProbeState> Switches)
{
    /// <summary>Reads it.</summary>
    public static async Task<MachineAsFound> ReadAsync(StepContext context) => new(
        await context.DoAsync(new Identify()),
        await context.DoAsync(new ReadSettings()),
        await context.DoAsync(new ReadProbeOffset()),
        (await context.DoAsync(new ReadMesh())).Mesh,
        await context.DoAsync(new LookAtMachine()),
        (await context.DoAsync(new ReadTravelLimits())).Limits,
        await context.DoAsync(new ReadSwitches()));

    /// <summary>Switches that read triggered, the probe not among them.</summary>
    public IEnumerable<string> Pressed => Switches.Where(one => one.Value == ProbeState.Triggered && !IsProbe(one.Key)).Select(one => one.Key);

    /// <summary>Whether the probe reads triggered.</summary>
    public bool ProbeTriggered => Switches.Any(one => one.Value == ProbeState.Triggered && IsProbe(one.Key));

    /// <summary>A setting's number; null when the report does not have it.</summary>
    public double? Setting(string name) =>
        Settings.Values.TryGetValue(name, out string? text)
        && double.TryParse(text.Split(' ')[0], NumberStyles.Float, CultureInfo.InvariantCulture, out double number)
            ? number
            : null;

    private static bool IsProbe(string name) => name.Contains("probe", StringComparison.Ordinal);
}
