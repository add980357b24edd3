using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Profiles;

namespace ProbeRunner.Machine.Guard;

/// <summary>The guard's rules, one a kind of request. Each says no first; what is left is allowed.</summary>
internal static class GuardRules
{
    /// <summary>A report is rounded to a hundredth: level travel may seem this much too low.</summary>
    private const double ReportRoundingMm = 0.0051;

    public static MotionRefusal? Decide(MotionGuard guard, MotionRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        if (guard.State.IsHalted)
        {
            return No(RefusalReason.Halted, "the controller was halted; it must be reset, then homed.");
        }

        return request switch
        {
            MotionRequest.LiftUnhomed lift => DecideLift(guard, lift.LiftMm),
            MotionRequest.Home home => DecideHome(guard, home.Axes),
            MotionRequest.Level level => DecideLevel(guard, level.Target),
            MotionRequest.Height height => DecideHeight(guard, height.TargetZ, height.FeedMmPerMin),
            MotionRequest.Touch touch => DecideTouch(guard, touch.Place),
            MotionRequest.BeginLaying laying => LayingRules.DecideBegin(guard, laying),
            MotionRequest.Lay lay => LayingRules.DecideLay(guard, lay),
            MotionRequest.Nudge nudge => LayingRules.DecideNudge(guard, nudge),
            MotionRequest.Extend => DecideExtend(guard),
            MotionRequest.Retract => DecideRetract(guard),
            _ => No(RefusalReason.NotANumber, "a motion the guard does not know."),
        };
    }

    public static double? FirstContact(MotionGuard guard, BedPoint place)
    {
        foreach (GuardTouch contact in guard.State.Contacts)
        {
            if (contact.Place.DistanceTo(place) <= GuardLimits.SamePlaceMm)
            {
                return contact.Z;
            }
        }

        return null;
    }

    public static GuardTouch TouchUnderNozzle(MotionGuard guard, double triggerZ, double triggerToNozzleMm)
    {
        ProbeProfile probe = guard.Profile.Probe;
        bool isPushed = probe.Kind is ProbeKind.RetractablePin or ProbeKind.Docked;
        double farthest = isPushed ? probe.ExtendedBelowNozzleMm : probe.TriggerToNozzleMm + GuardLimits.FloorMarginMm;
        MotionRefusal? refusal = guard.State switch
        {
            { IsHalted: true } => No(RefusalReason.Halted, "the controller was halted."),
            { Homed: not Axes.All } => No(RefusalReason.NotHomed, "a step-down needs all axes homed."),
            { Position: null } => No(RefusalReason.PositionUnknown, "where the nozzle is, is not known."),
            _ when !double.IsFinite(triggerZ) => No(RefusalReason.NotANumber, "the trigger height is not a number."),
            _ when !(triggerToNozzleMm >= 0 && triggerToNozzleMm <= farthest) => No(
                RefusalReason.StepDownState,
                Text($"a trigger-to-nozzle distance of {triggerToNozzleMm:0.###} mm is impossible for this probe: 0 to {farthest:0.###} mm is accepted.")),
            _ => null,
        };
        if (refusal is not null)
        {
            throw new MotionRefusedException(refusal);
        }

        NozzlePosition nozzle = guard.State.Position!.Value;
        foreach (GuardTouch touch in guard.State.Touches)
        {
            if (MotionGuard.SamePlace(touch.Place, nozzle))
            {
                return touch;
            }
        }

        throw new MotionRefusedException(No(
            RefusalReason.StepDownState,
            Text($"the bed at x {nozzle.X:0.0}, y {nozzle.Y:0.0} was not touched since the last homing: touch here first.")));
    }

    private static MotionRefusal? DecideLift(MotionGuard guard, double lift)
    {
        if (!double.IsFinite(lift))
        {
            return No(RefusalReason.NotANumber, "the lift is not a number.");
        }

        if (guard.State.Homed.HasFlag(Axes.Z))
        {
            return guard.State.Position is { } at
                ? lift > 0 ? WithinTop(guard, at.Z + lift) : No(RefusalReason.LiftNotBounded, "a lift goes up.")
                : No(RefusalReason.PositionUnknown, "where the nozzle is, is not known.");
        }

        double left = guard.Profile.Travel.FirstLiftMm - guard.State.LiftedUnhomedMm;
        return lift >= GuardLimits.LeastLiftMm && lift <= left + GuardLimits.RoundingMm
            ? null
            : No(RefusalReason.LiftNotBounded, Text($"before Z is homed it can only be lifted, by at least 0.1 and at most {Math.Max(0, left):0.##} mm more; {lift:0.##} mm was asked."));
    }

    private static MotionRefusal? DecideHome(MotionGuard guard, Axes axes)
    {
        GuardState state = guard.State;
        if (axes == Axes.None)
        {
            return No(RefusalReason.NotHomed, "no axis was named to be homed.");
        }

        if (axes.HasFlag(Axes.Z) && guard.Profile.Travel.HomesWithProbe && (state.Homed | axes | Axes.Z) != Axes.All)
        {
            return No(RefusalReason.NotHomed, "Z is homed with the probe over the bed: home X and Y first.");
        }

        if (state.Probe == ProbePosture.Extended && guard.Profile.Probe.Kind == ProbeKind.RetractablePin)
        {
            return No(RefusalReason.ProbeExtended, "the probe is extended: retract it before homing.");
        }

        if (!state.Homed.HasFlag(Axes.Z))
        {
            return null;
        }

        return state.Position is { } at
            ? AboveClearance(guard, at.Z)
            : No(RefusalReason.PositionUnknown, "where the nozzle is, is not known: ask for the position first.");
    }

    private static MotionRefusal? DecideLevel(MotionGuard guard, BedPoint target)
    {
        if (!double.IsFinite(target.X) || !double.IsFinite(target.Y))
        {
            return No(RefusalReason.NotANumber, "the target is not a number.");
        }

        if (NotReady(guard) is { } notReady)
        {
            return notReady;
        }

        NozzlePosition at = guard.State.Position!.Value;
        return WithinTravel(guard, target)
            ?? AboveClearance(guard, at.Z)
            ?? ClearOfClips(guard, at, target, probeOut: false);
    }

    private static MotionRefusal? DecideHeight(MotionGuard guard, double target, double feed)
    {
        if (!double.IsFinite(target) || !double.IsFinite(feed))
        {
            return No(RefusalReason.NotANumber, "the target or its feed is not a number.");
        }

        TravelProfile travel = guard.Profile.Travel;
        double fastest = Math.Max(travel.LiftFeedMmPerMin, travel.SlowFeedMmPerMin);
        if (!(feed > 0 && feed <= fastest))
        {
            return No(RefusalReason.FeedOutOfRange, Text($"a feed of {feed:0.#} mm/min; more than 0 and at most {fastest:0.#} is allowed up and down."));
        }

        if (!guard.State.Homed.HasFlag(Axes.Z))
        {
            return No(RefusalReason.NotHomed, "Z was not homed since the controller last forgot where it is.");
        }

        if (guard.State.Position is not { } at)
        {
            return No(RefusalReason.PositionUnknown, "where the nozzle is, is not known.");
        }

        if (target >= at.Z)
        {
            return WithinTop(guard, target);
        }

        return NotReady(guard) ?? DecideDescent(guard, at, target);
    }

    private static MotionRefusal? DecideDescent(MotionGuard guard, NozzlePosition at, double target)
    {
        double real = target + guard.State.Mesh!.Lowest;
        if (real < guard.Profile.Travel.LowestZ - GuardLimits.RoundingMm)
        {
            return No(RefusalReason.BelowFloor, Text($"z {target:0.####} is below the machine's lowest allowed {guard.Profile.Travel.LowestZ:0.###}."));
        }

        if (guard.MeetsClip(at with { Z = target }, new BedPoint(at.X, at.Y), probeOut: false))
        {
            return No(RefusalReason.OnClip, Text($"at z {target:0.###} the head would come down on a clip."));
        }

        if (AboveClearance(guard, target) is null)
        {
            return null;
        }

        if (guard.State.StepDown is not { } open || !MotionGuard.SamePlace(open.Place, at))
        {
            return No(
                RefusalReason.StepDownState,
                Text($"z {target:0.###} is below the clearance height {guard.ClearanceZ:0.###}: that takes a step-down opened at a touched place."));
        }

        if (guard.State.Probe != ProbePosture.Retracted && guard.Profile.Probe.Kind is not (ProbeKind.NozzleContact or ProbeKind.MetalSensing))
        {
            return No(RefusalReason.ProbeExtended, "the probe is not known to be retracted, and its tip is lower than the nozzle.");
        }

        if (real < open.FloorZ - GuardLimits.RoundingMm)
        {
            return No(RefusalReason.BelowFloor, Text($"z {target:0.####} is below the floor {open.FloorZ:0.####} of this place."));
        }

        if (FirstContact(guard, open.Place) is { } contact && real < contact - GuardLimits.DeepestBeyondContactMm - GuardLimits.RoundingMm)
        {
            return No(RefusalReason.BeyondContact, Text($"z {target:0.####} is more than 0.10 mm below the first contact at {contact:0.####}."));
        }

        return real < open.NearBedZ && at.Z - target > GuardLimits.LargestStepMm + GuardLimits.RoundingMm
            ? No(RefusalReason.StepTooLarge, Text($"a step of {at.Z - target:0.###} mm; near the bed (below {open.NearBedZ:0.###}) at most 0.1 mm is allowed."))
            : null;
    }

    private static MotionRefusal? DecideTouch(MotionGuard guard, BedPoint place)
    {
        if (!double.IsFinite(place.X) || !double.IsFinite(place.Y))
        {
            return No(RefusalReason.NotANumber, "the place is not a number.");
        }

        if (NotReady(guard) is { } notReady)
        {
            return notReady;
        }

        if (!guard.State.Mesh!.IsOff)
        {
            return No(RefusalReason.MeshCorrectionUnknown, "mesh correction is on; readings are taken with it off.");
        }

        Reach.ReachableArea reach = guard.ProbeReach;
        if (!reach.Plate.Inset(guard.Profile.Probe.EdgeMarginMm).Contains(place))
        {
            return No(RefusalReason.OffBed, Text($"x {place.X:0.0}, y {place.Y:0.0} is beside the bed or too near its edge."));
        }

        if (!reach.Bounds.Contains(place))
        {
            return No(RefusalReason.OutsideTravel, Text($"the probe cannot reach x {place.X:0.0}, y {place.Y:0.0}: the nozzle would leave its travel."));
        }

        return reach.OnExcluded(place)
            ? No(RefusalReason.OnClip, Text($"at x {place.X:0.0}, y {place.Y:0.0} the probe or the nozzle would come down on a clip."))
            : AboveClearance(guard, guard.State.Position!.Value.Z)
                ?? ClearOfClips(guard, guard.State.Position!.Value, guard.NozzleFor(place), probeOut: true);
    }

    private static MotionRefusal? ClearOfClips(MotionGuard guard, NozzlePosition at, BedPoint target, bool probeOut) =>
        guard.MeetsClip(at, target, probeOut)
            ? No(RefusalReason.OnClip, Text($"the way to x {target.X:0.0}, y {target.Y:0.0} leads over a clip: lift to {guard.OverClipsZ:0.#} first."))
            : null;

    private static MotionRefusal? DecideExtend(MotionGuard guard)
    {
        GuardState state = guard.State;
        if (guard.Profile.Probe.Kind == ProbeKind.Docked && state.Homed != Axes.All)
        {
            return No(RefusalReason.NotHomed, "fetching the probe from its dock moves the head: home all axes first.");
        }

        if (!state.Homed.HasFlag(Axes.Z))
        {
            return null;
        }

        return state.Position is { } at
            ? AboveClearance(guard, at.Z) ?? ClearOfClips(guard, at, new BedPoint(at.X, at.Y), probeOut: true)
            : No(RefusalReason.PositionUnknown, "where the nozzle is, is not known.");
    }

    private static MotionRefusal? DecideRetract(MotionGuard guard) => guard.Profile.Probe.Kind != ProbeKind.Docked
        ? null
        : NotReady(guard) ?? AboveClearance(guard, guard.State.Position!.Value.Z);

    private static MotionRefusal? NotReady(MotionGuard guard)
    {
        GuardState state = guard.State;
        if (state.Homed != Axes.All)
        {
            return No(RefusalReason.NotHomed, "not all axes were homed since the controller last forgot where they are.");
        }

        if (state.Position is null)
        {
            return No(RefusalReason.PositionUnknown, "where the nozzle is, is not known.");
        }

        return state.Mesh is null
            ? No(RefusalReason.MeshCorrectionUnknown, "it is not known whether mesh correction is on.")
            : null;
    }

    private static MotionRefusal? AboveClearance(MotionGuard guard, double z)
    {
        double lowest = z + Math.Min(0, guard.State.Mesh?.Lowest ?? 0);
        return lowest >= guard.ClearanceZ - ReportRoundingMm
            ? null
            : No(RefusalReason.BelowClearance, Text($"z {z:0.###} is below the clearance height {guard.ClearanceZ:0.###}: lift first."));
    }

    private static MotionRefusal? WithinTop(MotionGuard guard, double z) => z <= guard.Profile.Travel.HighestZ + GuardLimits.RoundingMm
        ? null
        : No(RefusalReason.OutsideTravel, Text($"z {z:0.###} is above the travel limit {guard.Profile.Travel.HighestZ:0.###}."));

    private static MotionRefusal? WithinTravel(MotionGuard guard, BedPoint target)
    {
        BedRectangle travel = guard.Profile.Travel.Nozzle;
        return travel.Inset(-GuardLimits.RoundingMm).Contains(target)
            ? null
            : No(
                RefusalReason.OutsideTravel,
                Text($"x {target.X:0.##}, y {target.Y:0.##} lies outside the nozzle's travel x {travel.MinX:0.#} to {travel.MaxX:0.#}, y {travel.MinY:0.#} to {travel.MaxY:0.#}."));
    }

    private static MotionRefusal No(RefusalReason reason, string facts) => new(reason, facts);

    private static string Text(FormattableString text) => FormattableString.Invariant(text);
}
