using System.Collections.Immutable;

namespace ProbeRunner.Machine.Settings;

/// <summary>What a controller says of itself, and what it was found able to do.</summary>
/// <param name="Firmware">Its own name and version; empty when it says nothing.</param>
/// <param name="MachineName">The machine's name it carries; empty when it says nothing.</param>
/// <param name="SerialNumber">A unique number when it has one; empty otherwise.</param>
/// <param name="Abilities">What was found out about it.</param>
/// <param name="Fields">All fields as reported.</param>
public sealed record ControllerIdentity(
    string Firmware,
    string MachineName,
    string SerialNumber,
    ControllerAbilities Abilities,
    ImmutableSortedDictionary<string, string> Fields);
