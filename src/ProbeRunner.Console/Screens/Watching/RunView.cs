using System.Collections.Immutable;
using ProbeRunner.Console.Screens.Pictures;
using ProbeRunner.Machine.Printers;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Events;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Scripts;

namespace ProbeRunner.Console.Screens.Watching;

/// <summary>
/// A run as the screens show it: what its events so far add up to. Immutable, of bounded size, and a pure function of the events, so that
/// any screen can be drawn again from it.
/// </summary>
internal sealed record RunView
{
    /// <summary>Lines that the log holds.</summary>
    public const int LongestLog = 1000;

    /// <summary>Readings that are listed.</summary>
    public const int LastReadingsShown = 24;

    /// <summary>Findings and changes that are listed at most.</summary>
    public const int MostListed = 200;

    /// <summary>No run.</summary>
    public static RunView Empty { get; } = new();

    /// <summary>The machine; null when there is no run.</summary>
    public MachineProfile? Profile { get; init; }

    /// <summary>The run's id; empty before it began.</summary>
    public string RunId { get; init; } = string.Empty;

    /// <summary>What is run, for a person.</summary>
    public string ScriptTitle { get; init; } = string.Empty;

    /// <summary>Whether it was taken up again.</summary>
    public bool IsResumed { get; init; }

    /// <summary>The steps in order.</summary>
    public ImmutableArray<StepView> Steps { get; init; } = [];

    /// <summary>Which step is being done; -1 before the first.</summary>
    public int Current { get; init; } = -1;

    /// <summary>When the last event came, since the run began.</summary>
    public TimeSpan At { get; init; }

    /// <summary>How far the run is, 0 to 1.</summary>
    public double Fraction { get; init; }

    /// <summary>What is left by the machine's own times; null while unknown.</summary>
    public TimeSpan? TimeLeft { get; init; }

    /// <summary>What the person is asked; null when nothing is.</summary>
    public Prompt? Asked { get; init; }

    /// <summary>What is known of the machine; null before anything is.</summary>
    public PrinterSnapshot? Machine { get; init; }

    /// <summary>The last readings, oldest first.</summary>
    public ImmutableList<Reading> LastReadings { get; init; } = [];

    /// <summary>The log, oldest first.</summary>
    public ImmutableList<Message> Log { get; init; } = [];

    /// <summary>How many lines were written, those that fell out of the log included.</summary>
    public int Written { get; init; }

    /// <summary>What was found, in the order it was found.</summary>
    public ImmutableList<Finding> Findings { get; init; } = [];

    /// <summary>Settings that were changed, in order.</summary>
    public ImmutableList<ChangedSetting> Changes { get; init; } = [];

    /// <summary>How the run ended; null while it goes on.</summary>
    public RunOutcome? Outcome { get; init; }

    /// <summary>Whether there is no run.</summary>
    public bool IsEmpty => Profile is null;

    /// <summary>The step being done, or the last one done; null before the first.</summary>
    public StepView? Step => Current >= 0 && Current < Steps.Length ? Steps[Current] : null;

    /// <summary>The picture of that step; null when it has none.</summary>
    public PictureState? Picture => Step?.Picture;

    /// <summary>The findings as the picture of the conclusions takes them.</summary>
    public ConclusionsState Conclusions => new([.. Findings], 0, false);

    /// <summary>A run that is about to begin.</summary>
    public static RunView Of(RunScript script, MachineProfile profile) => new()
    {
        Profile = profile,
        ScriptTitle = script.Title,
        Steps = [.. script.Steps.Select(StepView.Of)],
    };

    /// <summary>The view after one more event.</summary>
    public RunView After(RunEvent told) => RunReducer.After(this with { At = told.At > At ? told.At : At }, told);
}
