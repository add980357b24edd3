namespace ProbeRunner.Procedures.Journal;

/// <summary>What a run was started with. Script, profile and dialect are kept whole, so that a replay meets the same decisions.</summary>
/// <param name="RunId">Short, sortable, unique in the store: date, time and a few letters.</param>
/// <param name="MachineName">The profile's short name.</param>
/// <param name="ScriptName">The run script's name, or the step's when one step was run alone.</param>
/// <param name="ScriptText">The script as text, parameters filled in.</param>
/// <param name="ProfileText">The machine profile's text.</param>
/// <param name="DialectText">The dialect's text.</param>
/// <param name="PortIdentity">The port's stable identity; resume refuses another.</param>
/// <param name="ControllerIdentity">What the controller said of itself at the start, JSON; empty until asked.</param>
/// <param name="StartedAt">By the wall clock.</param>
/// <param name="Seed">Seed for everything in the run that needs chance (unpredictable start heights).</param>
/// <param name="ProgramVersion">Version that started it.</param>
public sealed record RunHeader(
    string RunId,
    string MachineName,
    string ScriptName,
    string ScriptText,
    string ProfileText,
    string DialectText,
    string PortIdentity,
    string ControllerIdentity,
    DateTimeOffset StartedAt,
    ulong Seed,
    string ProgramVersion)
{
    /// <summary>The machine's <see cref="Engine.MachineGeometry"/> at the start, JSON; resume refuses another. Empty when it was not asked.</summary>
    public string Geometry { get; init; } = string.Empty;
}
