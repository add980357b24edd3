using System.Collections.Immutable;

namespace ProbeRunner.Procedures.Operators;

/// <summary>
/// The ids of all questions, the same in every run. Answers files, scripted answers and simulated people go by them.
/// Ids that end in <c>hands-clear</c> confirm that the machine may move.
/// </summary>
public static partial class PromptIds
{
    /// <summary>keep / ruler / mark: how the X/Y offset is checked.</summary>
    public const string ProbeOffsetMethod = "probe-offset.method";

    /// <summary>same-line / left / right: where the probe is, seen from the nozzle.</summary>
    public const string ProbeOffsetSideX = "probe-offset.side-x";

    /// <summary>Number, mm: how far to that side.</summary>
    public const string ProbeOffsetDistanceX = "probe-offset.distance-x";

    /// <summary>same-line / front / back: where the probe is, seen from the nozzle.</summary>
    public const string ProbeOffsetSideY = "probe-offset.side-y";

    /// <summary>Number, mm: how far in that direction.</summary>
    public const string ProbeOffsetDistanceY = "probe-offset.distance-y";

    /// <summary>Acknowledge: tape on the bed, a pen at hand.</summary>
    public const string ProbeOffsetTape = "probe-offset.tape";

    /// <summary>Hands clear before the touch beside the tape.</summary>
    public const string ProbeOffsetTouchHandsClear = "probe-offset.touch-hands-clear";

    /// <summary>Hands clear before the nozzle comes down to the tape.</summary>
    public const string ProbeOffsetApproachHandsClear = "probe-offset.approach-hands-clear";

    /// <summary>call-off / touching / lower: whether the nozzle is on the tape.</summary>
    public const string ProbeOffsetNozzleAtMark = "probe-offset.nozzle-at-mark";

    /// <summary>Acknowledge: a cross was drawn where the nozzle points.</summary>
    public const string ProbeOffsetDraw = "probe-offset.draw-mark";

    /// <summary>Hands clear before the nozzle lifts off the tape.</summary>
    public const string ProbeOffsetLiftHandsClear = "probe-offset.lift-hands-clear";

    /// <summary>Hands clear before the probe is brought over the mark.</summary>
    public const string ProbeOffsetProbeHandsClear = "probe-offset.probe-hands-clear";

    /// <summary>call-off / left / right / front / back / over: where the probe's tip is, seen from the mark.</summary>
    public const string ProbeOffsetProbeAtMark = "probe-offset.probe-at-mark";

    /// <summary>wrong / right: the drawing looks like the machine.</summary>
    public const string ProbeOffsetDrawing = "probe-offset.drawing";

    /// <summary>Hands clear before Z is homed with the new offset.</summary>
    public const string ProbeOffsetHomeHandsClear = "probe-offset.home-hands-clear";

    /// <summary>Hands clear before a series of touches.</summary>
    public const string SeriesHandsClear = "series.hands-clear";

    /// <summary>Acknowledge: the plate was taken off and put back the same way round.</summary>
    public const string SeriesPlateBack = "series.plate-back";

    /// <summary>Hands clear before the touches of the step-down.</summary>
    public const string StepDownTouchHandsClear = "step-down.touch-hands-clear";

    /// <summary>Hands clear before the nozzle comes down towards the paper's place.</summary>
    public const string StepDownApproachHandsClear = "step-down.approach-hands-clear";

    /// <summary>Acknowledge: the probe is retracted, the paper lies under the nozzle.</summary>
    public const string StepDownPaperIn = "step-down.paper-in";

    /// <summary>call-off / free / drags / pinched / up / down / undo: what the paper does at this height, or a step by hand, or the last answer taken back.</summary>
    public const string StepDownPaper = "step-down.paper";

    /// <summary>Hands clear before the nozzle lifts off the paper.</summary>
    public const string StepDownLiftHandsClear = "step-down.lift-hands-clear";

    /// <summary>Hands clear before the homing with the new offset.</summary>
    public const string StepDownHomeHandsClear = "step-down.home-hands-clear";

    /// <summary>Hands clear before the touches near the screws.</summary>
    public const string ScrewsHandsClear = "screws.hands-clear";

    /// <summary>call-off / turned: one screw is to be turned; which, and how far, is in <see cref="Prompt.About"/>.</summary>
    public const string ScrewsTurn = "screws.turn";

    /// <summary>Acknowledge: filament loaded, plate clean, the machine gets hot.</summary>
    public const string FirstLayerReady = "first-layer.ready";

    /// <summary>Acknowledge: the pattern was printed from a file and lies on the plate.</summary>
    public const string FirstLayerPrinted = "first-layer.printed";

    /// <summary>Hands clear before the machine heats, homes and lays patches.</summary>
    public const string FirstLayerHandsClear = "first-layer.hands-clear";

    /// <summary>skip / gaps / good / ridges: how a patch looks; its place is in <see cref="Prompt.About"/>.</summary>
    public const string FirstLayerPatch = "first-layer.patch";

    /// <summary>no / yes: add the correction to the Z offset.</summary>
    public const string FirstLayerFoldIn = "first-layer.fold-in";

    /// <summary>Hands clear before a capture.</summary>
    public const string CaptureHandsClear = "grid.hands-clear";

    /// <summary>Hands clear before the homing of the verification.</summary>
    public const string VerifyHomeHandsClear = "verify.home-hands-clear";

    /// <summary>Hands clear before the nozzle goes to the next height.</summary>
    public const string VerifyApproachHandsClear = "verify.approach-hands-clear";

    /// <summary>wrong / right: a gap of about 5 mm.</summary>
    public const string VerifyGapFive = "verify.gap-five";

    /// <summary>wrong / right: a gap of about 1 mm.</summary>
    public const string VerifyGapOne = "verify.gap-one";

    /// <summary>Acknowledge: the paper lies under the nozzle.</summary>
    public const string VerifyPaperIn = "verify.paper-in";

    /// <summary>call-off / free / drags / pinched / up / down / undo: what the paper does at this height, or a step by hand, or the last answer taken back.</summary>
    public const string VerifyPaper = "verify.paper";

    /// <summary>Hands clear before the nozzle lifts off the paper.</summary>
    public const string VerifyLiftHandsClear = "verify.lift-hands-clear";

    /// <summary>keep / put-back: the settings that an earlier run found are written and stored.</summary>
    public const string RestoreConfirm = "restore.confirm";

    /// <summary>Hands clear before the machine goes on after a hold.</summary>
    public const string HoldHandsClear = "hold.hands-clear";

    /// <summary>Hands clear before a resumed run homes again.</summary>
    public const string ResumeHandsClear = "resume.hands-clear";

    /// <summary>
    /// The answers of a healthy machine to the questions that don't depend on what is felt, for answers files and simulated people.
    /// The bed is taken to move along Y. Not in it: acknowledgements (always <see cref="Answer.Continue"/>) and the two paper questions.
    /// </summary>
    public static ImmutableSortedDictionary<string, string> WhenAllIsWell { get; } = ImmutableSortedDictionary.CreateRange(
        StringComparer.Ordinal,
        new KeyValuePair<string, string>[]
        {
            new(BedClean, "yes"), new(ProbeTight, "yes"), new(WiringClear, "yes"), new(BedClear, "yes"), new(BedLevelByHand, "yes"), new(MainsInReach, "yes"),
            new(Contradiction, "go-on"), new(FirstLiftWentUp, "yes"), new(HomeXLooksRight, "yes"), new(HomeYLooksRight, "yes"),
            new(AxisMovesX, "right"), new(AxisMovesY, "front"), new(HeaterTrialBegin, "try"), new(HaltTrialBegin, "try"), new(HaltTrialStopped, "yes"),
            new(SelfCheckMovedEachTime, "yes"), new(SelfCheckPulledItselfIn, "no"), new(SelfCheckStoppedHigh, "yes"),
            new(FirstHomeZLooksRight, "yes"), new(ProbeOffsetMethod, "keep"), new(ProbeOffsetDrawing, "right"), new(VerifyGapFive, "right"), new(VerifyGapOne, "right"),
            new(ScrewsTurn, "turned"), new(FirstLayerPatch, "good"), new(FirstLayerFoldIn, "yes"),
            new(RestoreConfirm, "put-back"), new(MeshHeat, "heat"), new(StepDownGauge, "default"), new(StepDownPinUp, "yes"), new(VerifyPinUp, "yes"), new(Plate, "smooth"),
        });
}
