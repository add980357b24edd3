using ProbeRunner.Machine.Printers;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;

namespace ProbeRunner.Procedures.Requests;

/// <summary>What a request is performed with.</summary>
/// <param name="Printer">The machine.</param>
/// <param name="Person">The person at it.</param>
/// <param name="Clock">Time since the run began.</param>
/// <param name="Events">Tells listeners.</param>
/// <param name="Nudges">Where the person asks for nudges while lines are laid.</param>
/// <param name="EpochsBefore">Datum epochs that earlier sessions of this run used; a new session counts on from there.</param>
internal sealed record Instruments(IPrinter Printer, IOperator Person, RunClock Clock, EventStreams Events, NudgeDesk Nudges, int EpochsBefore)
{
    /// <summary>Since when the bed has been at its temperature.</summary>
    public BedWatch Bed { get; } = new();

    /// <summary>The run's number of a datum epoch that this session's printer counts from 1.</summary>
    public int RunEpoch(int sessionEpoch) => EpochsBefore + sessionEpoch;
}
