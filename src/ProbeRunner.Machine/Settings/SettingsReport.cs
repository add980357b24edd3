using System.Collections.Immutable;

namespace ProbeRunner.Machine.Settings;

/// <summary>The controller's settings at one moment.</summary>
/// <param name="Values">Each setting by a plain name of ours ("probe offset Z", "steps per mm Z", "idle release"), with its value as text with its unit.</param>
/// <param name="RawLines">The report as it came, printable, for the record and for putting back by hand.</param>
public sealed record SettingsReport(ImmutableSortedDictionary<string, string> Values, ImmutableArray<string> RawLines);
