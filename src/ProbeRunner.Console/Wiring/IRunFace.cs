using ProbeRunner.Console.Narration;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Scripts;

namespace ProbeRunner.Console.Wiring;

/// <summary>Where a run meets the person: plain lines, JSON lines or the screens. It can neither block nor change the run.</summary>
internal interface IRunFace
{
    /// <summary>Who answers the questions; asked once, when the machine is connected.</summary>
    IOperator PersonFor(MachineLink machine);

    /// <summary>The run is about to begin and can be held, stopped and halted from now on.</summary>
    /// <returns>What is to be disposed when it has ended.</returns>
    IDisposable Begin(BegunRun run);

    /// <summary>What the run's events are told to; asked once, after <see cref="Begin"/>.</summary>
    IRunListener ListenerFor(MachineLink machine);

    /// <summary>The run has ended, in whichever way, and its report is written.</summary>
    void End(EndedRun run);
}

/// <summary>A run that is about to begin.</summary>
/// <param name="RunId">Its name.</param>
/// <param name="Script">Its steps.</param>
/// <param name="Machine">Its machine, connected.</param>
/// <param name="Control">Hold, stop and halt, from any thread.</param>
internal sealed record BegunRun(string RunId, RunScript Script, MachineLink Machine, RunControl Control);

/// <summary>A run that has ended.</summary>
/// <param name="RunId">Its name.</param>
/// <param name="Outcome">How.</param>
/// <param name="ExitCode">One of <see cref="ExitCodes"/>.</param>
/// <param name="Report">The report's file; null when none could be written.</param>
/// <param name="Store">The file that the run is kept in.</param>
internal sealed record EndedRun(string RunId, RunOutcome Outcome, int ExitCode, string? Report, string Store);
