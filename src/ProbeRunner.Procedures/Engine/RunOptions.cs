using System.Collections.Immutable;
using ProbeRunner.Procedures.Watches;

namespace ProbeRunner.Procedures.Engine;

/// <summary>How a session of a run is to be done.</summary>
/// <param name="ProgramVersion">Version of the program, for the record.</param>
/// <param name="Simulated">Whether the machine is a simulated one, for the record.</param>
/// <param name="HoldLimit">How long the nozzle heater stays on in a hold; 10 minutes unless said otherwise.</param>
/// <param name="ShortestWait">
/// The shortest deadline of the way out, on the machine's clock; zero for a real machine. A simulated one that goes many times faster
/// must leave this computer its real seconds.
/// </param>
public sealed record RunOptions(string ProgramVersion, bool Simulated = false, TimeSpan? HoldLimit = null, TimeSpan ShortestWait = default)
{
    /// <summary>Whether heaters may be on with nobody at the machine; not unless said otherwise.</summary>
    public UnattendedHeat UnattendedHeat { get; init; } = UnattendedHeat.NotAllowed;

    /// <summary>What is looked at all the time while the run works.</summary>
    public ImmutableArray<IRunWatch> Watches { get; init; } = [];

    /// <summary>How long the nozzle heater stays on in a hold.</summary>
    public TimeSpan NozzleHoldLimit => HoldLimit ?? TimeSpan.FromMinutes(10);
}
