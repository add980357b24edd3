using ProbeRunner.Metrology.Thresholds;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Procedures.Steps.StepDown;

/// <summary>What can go wrong with a step-down, for a person.</summary>
internal static class StepDownFindings
{
    /// <summary>The one that makes the machine not fit; all others leave the offset undecided.</summary>
    public const string HomedElsewhereId = "step-down.homed-elsewhere";

    private const double LargestUncertaintyMm = 0.03;

    /// <summary>Why an offset should not be written; null when it should.</summary>
    public static Finding? Doubt(PaperOffset offset)
    {
        string takes = string.Join(", ", offset.TakeOffsetsMm.Select(one => FormattableString.Invariant($"{one:0.000}")));
        if (!offset.Agree)
        {
            return new Finding(
                "step-down.takes-disagree", "The takes do not agree, so no offset was written.", offset.TakeOffsetsMm.Max() - offset.TakeOffsetsMm.Min(), "nozzle", 0.95,
                $"Offsets of the takes: {takes} mm.", "Clean the nozzle tip, use a flat fresh paper, and judge by the first slight drag; then run the step again.");
        }

        return offset.StandardUncertaintyMm <= LargestUncertaintyMm
            ? null
            : new Finding(
                "step-down.too-uncertain", "The offset is too uncertain to be written.", offset.StandardUncertaintyMm, "nozzle", 0.95,
                FormattableString.Invariant($"Standard uncertainty {offset.StandardUncertaintyMm:0.000} mm after {takes}."), "Run the step again and take your time over each answer.");
    }

    /// <summary>Why a take came to no drag.</summary>
    public static Finding NoDrag(OffsetTake take) => take.Result switch
    {
        { PinDown: true } => new Finding(
            "step-down.pin-down", "The probe's tip was not up, so the paper test was not begun.", null, "probe", 1, "Seen by the person at the machine.",
            "Find out why the probe does not retract (a bent pin, dirt, its plug), run the self-check, then this step again. Do not push it up by hand while the machine can move."),
        { CalledOff: true } => new Finding(
            "step-down.called-off", "The paper test was called off; no offset was written.", null, "nozzle", 1, "Called off by the person.", "Run the step again when ready."),
        _ => new Finding(
            "step-down.never-dragged", "The paper never dragged down to the lowest height allowed.", null, "nozzle", 1,
            FormattableString.Invariant($"Free in {take.Result.Answers.Length} answers, down to {take.Result.Answers.Select(answer => answer.HeightMm).DefaultIfEmpty(double.NaN).Last():0.000} mm."),
            "Measure again how far the probe triggers above the nozzle's touch, correct trigger_to_nozzle_mm in the profile, then run the step again."),
    };

    /// <summary>The trigger is not where the new offset puts it.</summary>
    public static Finding HomedElsewhere(double offsetZ, double triggerZ) => new(
        HomedElsewhereId,
        "After homing with the new offset the probe does not trigger where it should.",
        Math.Abs(triggerZ + offsetZ),
        "homing place",
        1,
        FormattableString.Invariant($"Offset {offsetZ:0.000} mm, so the trigger belongs at {-offsetZ:0.000} mm; it came at {triggerZ:0.000} mm."),
        "The controller may count its offset the other way round. Do not print; check the dialect's touch report and the sign of the offset.");
}
