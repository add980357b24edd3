namespace ProbeRunner.Machine.Dialects;

/// <summary>A plain name for one value of a settings report.</summary>
/// <param name="Name">"steps per mm Z" and the like.</param>
/// <param name="Unit">"steps/mm" and the like; empty for a bare number.</param>
internal readonly record struct SettingName(string Name, string Unit);
