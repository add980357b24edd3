using System.Collections.Immutable;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Procedures.Scripts;
using ProbeRunner.Records.Runs;

namespace ProbeRunner.Console.Screens.Start;

/// <summary>What there is to begin with.</summary>
/// <param name="Machines">The machine profiles found.</param>
/// <param name="Ports">The ports found, the simulated ones last.</param>
/// <param name="Scripts">The run scripts found.</param>
/// <param name="Runs">The runs on record, newest first.</param>
/// <param name="Troubles">What could not be read, in sentences.</param>
internal sealed record StartFacts(
    ImmutableArray<MachineChoice> Machines,
    ImmutableArray<PortChoice> Ports,
    ImmutableArray<ScriptChoice> Scripts,
    ImmutableArray<RunListing> Runs,
    ImmutableArray<string> Troubles)
{
    /// <summary>Nothing looked for yet.</summary>
    public static StartFacts None { get; } = new([], [], [], [], []);
}

/// <summary>A machine to choose.</summary>
/// <param name="Name">Its profile's name.</param>
/// <param name="Title">What a person calls it.</param>
/// <param name="Profile">The profile; null when the file is not sound.</param>
/// <param name="Fault">What is wrong with the file; null when nothing is.</param>
internal sealed record MachineChoice(string Name, string Title, MachineProfile? Profile, string? Fault);

/// <summary>A port to choose.</summary>
/// <param name="Name">By which it is opened and remembered: the stable name, or <c>simulated:SCENARIO</c>.</param>
/// <param name="Title">How it is shown.</param>
/// <param name="Detail">What hardware it is, or what the scenario teaches.</param>
/// <param name="Scenario">The simulated printer's scenario; null for a real port.</param>
/// <param name="ForMachine">The one machine that a scenario is set on; null for any.</param>
internal sealed record PortChoice(string Name, string Title, string Detail, string? Scenario = null, string? ForMachine = null)
{
    /// <summary>Whether nothing real moves.</summary>
    public bool IsSimulated => Scenario is not null;
}

/// <summary>A run script to choose.</summary>
/// <param name="Script">The script; null when the file is not sound.</param>
/// <param name="Name">Its name.</param>
/// <param name="Fault">What is wrong with the file; null when nothing is.</param>
internal sealed record ScriptChoice(string Name, RunScript? Script, string? Fault)
{
    /// <summary>Whether a step needs a person at the machine.</summary>
    public bool NeedsPerson => Script is null || Script.Steps.Any(step => step.NeedsPerson);

    /// <summary>How long it takes on a machine, from the steps' plans and the usual times of the trade's machines; null when it can't be said.</summary>
    public TimeSpan? UsualTime(MachineProfile? profile) =>
        Script is null || profile is null ? null : Script.Steps.Aggregate(TimeSpan.Zero, (sum, step) => sum + step.Plan(profile).UsualTime);
}
