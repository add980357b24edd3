using System.Collections.Immutable;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Journal;

namespace ProbeRunner.Procedures.Steps.Restoring;

/// <summary>What a run may leave changed when it never had a way out (killed, power cut), beside offset and mesh.</summary>
/// <param name="MeshCorrectionOn">Mesh correction as the run's first session found it; null where the controller didn't say.</param>
/// <param name="SoftLimitsOn">The controller's own travel limits; null where it didn't say.</param>
/// <param name="ZFeedMmPerMin">How fast Z may go at most, mm/min; null when the run never changed it.</param>
public sealed record SwitchesAsFound(bool? MeshCorrectionOn, bool? SoftLimitsOn, double? ZFeedMmPerMin)
{
    /// <summary>Nothing to put back.</summary>
    public static SwitchesAsFound Unknown { get; } = new(null, null, null);

    /// <summary>What the record of a run says of them.</summary>
    /// <param name="entries">The run's journal, in order.</param>
    public static SwitchesAsFound In(ImmutableArray<JournalEntry> entries)
    {
        MachineState met = new Replay(entries).State;
        return new SwitchesAsFound(met.CorrectionAsFound, met.SoftLimitsAsFound, met.LiveZFeed is null ? null : met.ZFeedAsFound);
    }
}
