using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Heat;
using ProbeRunner.Machine.Profiles;

namespace ProbeRunner.Machine.Guard;

/// <summary>
/// The guard's rules for laying a first layer, the one thing done near the bed without a touch at each place: only over a proven offset
/// with the mesh on, only inside the printable area, never below half the layer's height, with nudges that are small and few.
/// </summary>
internal static class LayingRules
{
    /// <summary>Why laying can't begin; null when it can.</summary>
    public static MotionRefusal? DecideBegin(MotionGuard guard, MotionRequest.BeginLaying request)
    {
        GuardState state = guard.State;
        FirstLayerProfile layer = guard.Profile.FirstLayer;
        return NotReady(guard) ?? (request.LayerHeightMm switch
        {
            var height when !double.IsFinite(height) => No(RefusalReason.NotANumber, "the layer's height is not a number."),
            var height when !(height >= layer.LowestGapMm && height <= layer.HighestGapMm) => No(
                RefusalReason.LayingState,
                Text($"a first layer of {height:0.###} mm; this machine's profile takes {layer.LowestGapMm:0.###} to {layer.HighestGapMm:0.###}.")),
            _ => null,
        }) ?? NotHot(request.Heat, request.Now)
            ?? (state.StepDown is not null ? No(RefusalReason.StepDownState, "a step-down is open: close it first.") : null);
    }

    /// <summary>Why a line can't be laid, or why the nozzle can't come down to begin one; null when it can.</summary>
    public static MotionRefusal? DecideLay(MotionGuard guard, MotionRequest.Lay request)
    {
        if (!double.IsFinite(request.Target.X) || !double.IsFinite(request.Target.Y) || !double.IsFinite(request.Z) || !double.IsFinite(request.FilamentMm))
        {
            return No(RefusalReason.NotANumber, "the target or the amount of filament is not a number.");
        }

        if (guard.State.Laying is not { } mode)
        {
            return No(RefusalReason.LayingState, "no first layer was begun.");
        }

        if (NotReady(guard) is { } notReady)
        {
            return notReady;
        }

        NozzlePosition at = guard.State.Position!.Value;
        double distance = new BedPoint(at.X, at.Y).DistanceTo(request.Target);
        double fastest = guard.Profile.Travel.TravelFeedMmPerMin;
        double real = request.Z + mode.NudgedMm;
        return !(request.FeedMmPerMin > 0 && request.FeedMmPerMin <= fastest)
            ? No(RefusalReason.FeedOutOfRange, Text($"a feed of {request.FeedMmPerMin:0.#} mm/min; more than 0 and at most {fastest:0.#} is allowed."))
            : real < mode.FloorZ - GuardLimits.RoundingMm
            ? No(RefusalReason.BelowFloor, Text($"a line at {real:0.####} mm, nudges included; half the layer's height, {mode.FloorZ:0.###} mm, is the least."))
            : real > mode.TopZ + GuardLimits.RoundingMm
                ? No(RefusalReason.LayingState, Text($"a line at {real:0.####} mm is above twice the layer's height."))
                : !InPrintable(guard, at) || !InPrintable(guard, request.Target)
                    ? No(RefusalReason.OffBed, Text($"x {request.Target.X:0.0}, y {request.Target.Y:0.0} or the way there lies outside the printable area."))
                    : guard.MeetsClip(at with { Z = request.Z }, request.Target, probeOut: false)
                        ? No(RefusalReason.OnClip, Text($"the way to x {request.Target.X:0.0}, y {request.Target.Y:0.0} leads over a clip."))
                        : Sideways(guard, at, request, distance);
    }

    /// <summary>Why a nudge is refused; null when it is allowed.</summary>
    public static MotionRefusal? DecideNudge(MotionGuard guard, MotionRequest.Nudge request)
    {
        if (guard.State.Laying is not { } mode)
        {
            return No(RefusalReason.LayingState, "a nudge belongs to a first layer, and none was begun.");
        }

        double total = mode.NudgedMm + request.ByMm;
        return !double.IsFinite(request.ByMm)
            ? No(RefusalReason.NotANumber, "the nudge is not a number.")
            : Math.Abs(request.ByMm) > GuardLimits.LargestNudgeMm + GuardLimits.RoundingMm
                ? No(RefusalReason.StepTooLarge, Text($"a nudge of {request.ByMm:0.###} mm; at most {GuardLimits.LargestNudgeMm:0.##} at a time."))
                : Math.Abs(total) > GuardLimits.NudgeRangeMm + GuardLimits.RoundingMm
                    ? No(RefusalReason.BelowFloor, Text($"nudges of {total:0.###} mm in all; at most {GuardLimits.NudgeRangeMm:0.#} either way. Measure the offset again."))
                    : guard.State.Position is { } at && at.Z <= mode.TopZ && at.Z + total < mode.FloorZ - GuardLimits.RoundingMm
                        ? No(RefusalReason.BelowFloor, Text($"the nozzle would be at {at.Z + total:0.###} mm; half the layer's height, {mode.FloorZ:0.###} mm, is the least."))
                        : NextLine(mode, request.NextLineZ + total);
    }

    /// <summary>A nudge that would leave the next line out of bounds is refused, so that no line has to be.</summary>
    private static MotionRefusal? NextLine(LayingMode mode, double? real) => real switch
    {
        double low when !(low >= mode.FloorZ - GuardLimits.RoundingMm) =>
            No(RefusalReason.BelowFloor, Text($"the next line would be laid at {low:0.###} mm; half the layer's height, {mode.FloorZ:0.###} mm, is the least.")),
        double high when high > mode.TopZ + GuardLimits.RoundingMm =>
            No(RefusalReason.LayingState, Text($"the next line would be laid at {high:0.###} mm; twice the layer's height, {mode.TopZ:0.###} mm, is the most.")),
        _ => null,
    };

    private static MotionRefusal? Sideways(MotionGuard guard, NozzlePosition at, MotionRequest.Lay request, double distance)
    {
        double least = guard.State.Laying!.FloorZ;
        return (at.Z, request.FilamentMm) switch
        {
            (_, < 0) => No(RefusalReason.LayingState, "filament is never pulled back here."),

            // A plug of plastic under a standing nozzle lifts the head or tears the plate: filament goes with the way, and not too much of it.
            var (_, filament) when filament > (distance * GuardLimits.MostFilamentPerMm) + GuardLimits.RoundingMm =>
                No(RefusalReason.LayingState, Text($"{filament:0.###} mm of filament on a way of {distance:0.##} mm: more than a line can take.")),
            var (z, _) when z > request.Z + GuardLimits.RoundingMm && distance > GuardLimits.SamePlaceMm =>
                No(RefusalReason.BelowClearance, "the nozzle comes straight down to where a line begins, never aslant."),
            var (z, filament) when z + GuardLimits.RoundingMm < least && filament > 0 =>
                No(RefusalReason.BelowFloor, "the nozzle is lower than a line may be laid."),
            _ => null,
        };
    }

    private static MotionRefusal? NotReady(MotionGuard guard) => guard.State switch
    {
        { Homed: not Axes.All } => No(RefusalReason.NotHomed, "not all axes were homed since the controller last forgot where they are."),
        { Position: null } => No(RefusalReason.PositionUnknown, "where the nozzle is, is not known."),
        { Mesh: null } => No(RefusalReason.MeshCorrectionUnknown, "it is not known what mesh correction does."),
        { Mesh.IsOff: true } => No(RefusalReason.MeshCorrectionUnknown, "mesh correction is off; a first layer is laid with it on."),
        { OffsetVerified: false } => No(RefusalReason.OffsetNotVerified, "the Z offset was not proven at the bed."),
        { Probe: not ProbePosture.Retracted } when guard.Profile.Probe.Kind is not (ProbeKind.NozzleContact or ProbeKind.MetalSensing) =>
            No(RefusalReason.ProbeExtended, "the probe is not known to be retracted, and its tip is lower than the nozzle."),
        _ => null,
    };

    private static MotionRefusal? NotHot(Temperatures? heat, DateTimeOffset now) => heat switch
    {
        null => No(RefusalReason.NotHot, "the temperatures are not known."),
        { } stale when (now - stale.At).Duration() > GuardLimits.FreshTemperature => No(RefusalReason.NotHot, "the last report of the temperatures is too old."),
        { } cold when cold.NozzleTargetCelsius < GuardLimits.LeastLayingCelsius || Math.Abs(cold.NozzleCelsius - cold.NozzleTargetCelsius) > GuardLimits.AtTemperatureCelsius => No(
            RefusalReason.NotHot,
            Text($"the nozzle is at {cold.NozzleCelsius:0} degC with a target of {cold.NozzleTargetCelsius:0}; it must be within {GuardLimits.AtTemperatureCelsius:0} of a target of at least {GuardLimits.LeastLayingCelsius:0}.")),
        _ => null,
    };

    private static bool InPrintable(MotionGuard guard, NozzlePosition at) => InPrintable(guard, new BedPoint(at.X, at.Y));

    private static bool InPrintable(MotionGuard guard, BedPoint place) =>
        guard.Profile.Bed.Printable.Inset(-GuardLimits.RoundingMm).Contains(place) && guard.Profile.Travel.Nozzle.Inset(-GuardLimits.RoundingMm).Contains(place);

    private static MotionRefusal No(RefusalReason reason, string facts) => new(reason, facts);

    private static string Text(FormattableString text) => FormattableString.Invariant(text);
}
