using ProbeRunner.Machine.Settings;

namespace ProbeRunner.Procedures.Engine;

/// <summary>Whether a controller is the one that was met before, by what it says of itself.</summary>
public static class SameMachine
{
    /// <summary>In what they differ, a sentence's part; null when it is the same.</summary>
    public static string? Difference(ControllerIdentity then, ControllerIdentity now)
    {
        ArgumentNullException.ThrowIfNull(then);
        ArgumentNullException.ThrowIfNull(now);
        return (then.Firmware, then.MachineName, then.SerialNumber) == (now.Firmware, now.MachineName, now.SerialNumber)
            ? null
            : $"it was \"{then.MachineName}\" {then.Firmware} {then.SerialNumber}, now it is \"{now.MachineName}\" {now.Firmware} {now.SerialNumber}";
    }
}
