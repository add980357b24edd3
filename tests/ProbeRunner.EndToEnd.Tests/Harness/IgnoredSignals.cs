using System.Globalization;

namespace ProbeRunner.EndToEnd.Tests.Harness;

/// <summary>
/// Signals that the tests themselves were started to ignore (hang-ups under <c>nohup</c>, interrupts in a shell's background) and that every
/// program they start inherits. Whoever starts a run like that wants it to go on, and it does.
/// </summary>
internal static class IgnoredSignals
{
    private const string Label = "SigIgn:";

    /// <summary>The interrupt of a terminal.</summary>
    public const int Interrupt = 2;

    /// <summary>The hang-up of a terminal.</summary>
    public const int HangUp = 1;

    /// <summary>Whether a signal is ignored here; false where the system doesn't tell.</summary>
    public static bool Contains(int signal) =>
        File.Exists("/proc/self/status")
        && File.ReadLines("/proc/self/status").FirstOrDefault(line => line.StartsWith(Label, StringComparison.Ordinal)) is { } line
        && (ulong.Parse(line[Label.Length..].Trim(), NumberStyles.HexNumber, CultureInfo.InvariantCulture) >> (signal - 1) & 1) != 0;
}
