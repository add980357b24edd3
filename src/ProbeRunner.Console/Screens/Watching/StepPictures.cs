using ProbeRunner.Console.Screens.Pictures;
using ProbeRunner.Console.Screens.Pictures.Bed;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Events;

namespace ProbeRunner.Console.Screens.Watching;

/// <summary>Which picture fits a step, and what an event changes in it.</summary>
internal static class StepPictures
{
    /// <summary>The picture of the step in hand after an event; the same object when nothing changed.</summary>
    public static PictureState? After(StepView step, RunEvent told, MachineProfile profile, RunView view) => told switch
    {
        StepStarted => Beginning(step, profile, view),
        StepRecalled e => Concluded(Beginning(step, profile, view), e.Conclusion, profile),
        StepEnded e => Concluded(step.Picture, e.Conclusion, profile),
        FindingReached when step.Picture is ConclusionsState => view.Conclusions,
        _ => step.Picture switch
        {
            SeriesState state => SeriesWatch.After(state, told),
            StepDownState state => StepDownWatch.After(state, told),
            MapState state => MapWatch.After(state, told),
            ScrewsState state => ScrewsWatch.After(state, told, profile),
            FirstLayerState state => FirstLayerWatch.After(state, told),
            WarmUpState state => WarmUpWatch.After(state, told, step.Began ?? TimeSpan.Zero),
            LeanState or ProfileState when told is PaperFelt => StepDownWatch.After(StepDownState.Empty, told),
            { } other => other,
            null => null,
        },
    };

    private static PictureState? Beginning(StepView step, MachineProfile profile, RunView view) => step.Step.Name switch
    {
        "series" => SeriesState.Empty,
        "step-down" or "verify" or "lean" => StepDownState.Empty,
        "screws" => ScrewsWatch.Unmeasured(profile),
        "grid" or "guided-capture" => MapState.Empty(BedOutline.Of(profile)),
        "mesh" => MapOfLastCapture(view) ?? MapState.Empty(BedOutline.Of(profile)),
        "first-layer" => FirstLayerWatch.Nothing(profile),
        "warm-up" => WarmUpState.Empty,
        "touch-tuning" => SeriesState.Empty,
        "conclusions" => view.Conclusions,
        "store" or "restore-settings" => null,
        _ => ProfileState.Of(profile),
    };

    private static PictureState? Concluded(PictureState? picture, StepConclusion conclusion, MachineProfile profile) => conclusion switch
    {
        SeriesConclusion series => SeriesWatch.Concluded(series, profile),
        StepDownConclusion stepDown => StepDownWatch.Concluded(picture as StepDownState ?? StepDownState.Empty, stepDown),
        CaptureConclusion capture => MapWatch.Concluded(picture as MapState ?? MapState.Empty(BedOutline.Of(profile)), capture),
        MeshConclusion { Wanted: { Columns: > 0 } nodes } => MapState.Empty(BedOutline.Of(profile)) with { Heights = FieldOf(nodes) },
        ScrewsConclusion screws => ScrewsWatch.Concluded(screws, profile),
        FirstLayerConclusion layer => FirstLayerWatch.Concluded(picture as FirstLayerState ?? FirstLayerWatch.Nothing(profile), layer),
        TouchTuningConclusion tuning => TouchTuningWatch.Concluded(tuning),
        WarmUpConclusion warmUp => WarmUpWatch.Concluded(warmUp),
        LeanConclusion { Axes.IsDefaultOrEmpty: false } lean => LeanWatch.Concluded(lean),
        _ => picture is StepDownState stepDown ? stepDown with { IsAsking = false } : picture,
    };

    private static BedField FieldOf(MeshNodes nodes) => new(nodes.Area, nodes.Columns, nodes.Rows, nodes.Heights);

    private static MapState? MapOfLastCapture(RunView view) =>
        view.Steps.Select(step => step.Picture).OfType<MapState>().LastOrDefault(map => map.Heights is not null);
}
