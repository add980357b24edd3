using System.Collections.Immutable;

namespace ProbeRunner.Machine.Dialects;

/// <summary>What stands around the lines of a pattern in a file of its own. A file waits for its heaters by itself; over the wire that is never sent.</summary>
/// <param name="Comment">What begins a remark.</param>
/// <param name="Begin">Heats, homes and switches the mesh on: probing, nozzle, bed.</param>
/// <param name="End">Heaters and motors off.</param>
internal sealed record PatternWords(string Comment, ImmutableArray<CommandTemplate> Begin, ImmutableArray<CommandTemplate> End);
