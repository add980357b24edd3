using ProbeRunner.Machine.Heat;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Procedures.Steps.CheckAgain;
using ProbeRunner.Records.Store;

namespace ProbeRunner.Records.Runs;

/// <summary>Captures of recorded runs, as a later check takes them.</summary>
public static class EarlierCaptures
{
    private const string ReadTemperatures = "{\"kind\":\"read-temperatures\"";
    private const string ReadOffset = "{\"kind\":\"read-probe-offset\"";

    /// <summary>The capture of a run with what was known beside it; null when it has none that came out sound.</summary>
    public static EarlierCapture? Of(RunRecord run)
    {
        ArgumentNullException.ThrowIfNull(run);
        StepRecord? step = run.Steps.LastOrDefault(step => step.Conclusion is CaptureConclusion { Verdict.State: VerdictWord.Fit, Readings.IsEmpty: false });
        if (step?.Conclusion is not CaptureConclusion capture)
        {
            return null;
        }

        Temperatures? heat = Last<Temperatures>(run, step.Index, ReadTemperatures);
        return new EarlierCapture(
            run.Header.RunId,
            EarlierCapture.Taken(capture.Readings),
            run.Conclusion<SeriesConclusion>() is { Design: "plain" } series ? [.. series.Readings.Select(reading => reading.Z)] : [],
            Last<ProbeOffset>(run, step.Index, ReadOffset),
            heat?.NozzleCelsius,
            heat?.BedCelsius)
        { Plate = capture.TakenUnder?.Plate ?? string.Empty };
    }

    /// <summary>The newest sound capture of a machine; null when the store has none.</summary>
    /// <param name="store">Where to look.</param>
    /// <param name="machine">The profile's name.</param>
    /// <param name="simulated">Whether of the simulated machine; a real bed is never compared with a simulated one.</param>
    public static EarlierCapture? Newest(RunStore store, string machine, bool simulated)
    {
        ArgumentNullException.ThrowIfNull(store);
        return store.List()
            .Where(run => run.MachineName == machine && run.Outcome is RunOutcome.Completed)
            .OrderByDescending(run => run.StartedAt)
            .Select(run => store.ReadSoundPart(run.RunId))
            .Where(run => run.DamagedFrom is null && run.IsSimulated == simulated)
            .Select(Of)
            .FirstOrDefault(capture => capture is not null);
    }

    private static T? Last<T>(RunRecord run, int step, string request)
        where T : struct => run.Entries.LastOrDefault(entry =>
            entry.Kind == EntryKind.Fact && entry.StepIndex == step && entry.Request.StartsWith(request, StringComparison.Ordinal)) is { } fact
                ? JournalJson.Read<T>(fact.Reply)
                : null;
}
