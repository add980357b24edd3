using System.Collections.Immutable;
using ProbeRunner.Console.Notices;

namespace ProbeRunner.Console.Wiring;

/// <summary>What a new run is to do, on which machine.</summary>
/// <param name="Script">Name or path of a run script, or a step's name.</param>
/// <param name="Machine">Name or path of a machine profile.</param>
/// <param name="Connection">How the machine is reached.</param>
/// <param name="Parameters">Step parameters set on the command line, each as <c>step.key=value</c>.</param>
/// <param name="Seed">Seed of what the run itself leaves to chance (start heights); null draws one.</param>
internal sealed record RunRequest(string Script, string Machine, Connection Connection, ImmutableArray<string> Parameters, ulong? Seed);

/// <summary>How a session is done, whether it begins a run or resumes one.</summary>
/// <param name="Store">The store's file; null for the usual place.</param>
/// <param name="AnswersFile">File that answers the prompts; null when a person does.</param>
/// <param name="Unattended">Whether nobody is there; scripts that need a person are refused.</param>
/// <param name="AllowHeat">How long heaters may be on with nobody there; null when they may not.</param>
/// <param name="Notices">Whom to tell when it ends, stops or needs a person.</param>
/// <param name="Json">Whether events go out as JSON lines.</param>
/// <param name="ReportFolder">Where the report is written.</param>
/// <param name="ConfirmEveryReading">Whether every reading is confirmed by a second agreeing touch.</param>
internal sealed record SessionOptions(
    string? Store, string? AnswersFile, bool Unattended, TimeSpan? AllowHeat, NoticeSettings Notices, bool Json, string ReportFolder, bool ConfirmEveryReading);

/// <summary>How a machine is reached.</summary>
internal abstract record Connection
{
    private Connection()
    {
    }

    /// <summary>A port that is there: a device or a TCP address.</summary>
    /// <param name="Port">As written after <c>--port</c>.</param>
    /// <param name="BaudRate">Overrides the profile's; null keeps it.</param>
    /// <param name="Senses">Where a simulated printer's senses are asked by a simulated person; null when a person is there.</param>
    /// <param name="Speed">How much faster than real that simulated printer goes.</param>
    internal sealed record ToPort(string Port, int? BaudRate, string? Senses, double Speed) : Connection;

    /// <summary>The simulated printer, started as a process of its own.</summary>
    /// <param name="Scenario">Name or path of its scenario.</param>
    /// <param name="Seed">Seed of its noise; null takes the scenario's.</param>
    /// <param name="Speed">How much faster than real it goes.</param>
    /// <param name="IdleRelease">After how long without a motion it releases its motors, on its own clock; null takes the scenario's own.</param>
    internal sealed record ToSimulator(string Scenario, ulong? Seed, double Speed, TimeSpan? IdleRelease = null) : Connection;
}
