using ProbeRunner.Console.Screens.Pictures;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Events;

namespace ProbeRunner.Console.Screens.Watching;

/// <summary>The picture of a series while it is taken.</summary>
internal static class SeriesWatch
{
    private const int MostShown = 400;

    /// <summary>After an event.</summary>
    public static SeriesState After(SeriesState state, RunEvent told) => told switch
    {
        ReadingTaken e => With(state, e.Reading),
        ReadingRecalled e => With(state, e.Reading),
        SeriesJudged e => state with { SoFar = e.SoFar },
        _ => state,
    };

    /// <summary>Once it is concluded; the judgement of the whole, drift and all.</summary>
    public static SeriesState Concluded(SeriesConclusion series, MachineProfile profile) => new(
        [.. series.Readings.TakeLast(MostShown).Select(reading => reading.Z)],
        new SeriesSoFar(series.Verdict, 0, series.SigmaMm, series.SigmaLowerMm, series.SigmaUpperMm, profile.Probe.GoodSigmaMm, profile.Probe.BadSigmaMm));

    private static SeriesState With(SeriesState state, Reading reading) => state with
    {
        HeightsMm = (state.HeightsMm.Length < MostShown ? state.HeightsMm : state.HeightsMm.RemoveAt(0)).Add(reading.Z),
    };
}
