using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Reach;
using ProbeRunner.Machine.Settings;

namespace ProbeRunner.Machine.Guard;

/// <summary>
/// Decides about every motion, whoever asks. Immutable: facts make a new guard, <see cref="Decide"/> changes nothing.
/// It refuses whatever is not provably safe from what it was told.
/// </summary>
public sealed class MotionGuard
{
    private readonly MachineProfile _profile;

    private MotionGuard(MachineProfile profile, GuardState state)
    {
        _profile = profile;
        State = state;
    }

    /// <summary>All it knows.</summary>
    public GuardState State { get; }

    /// <summary>The machine.</summary>
    public MachineProfile Profile => _profile;

    /// <summary>
    /// The height from which level travel is safe in this epoch, mm: above the highest touch by 5 mm until an offset is verified, by the
    /// profile's clearance afterwards, and never so low that an extended tip would come within 1 mm of the bed.
    /// </summary>
    public double ClearanceZ => Math.Min(HighestTrigger + ClearanceAboveTrigger, _profile.Travel.HighestZ);

    /// <summary>The height from which the head passes over the clips, whichever part of it is the lowest, mm.</summary>
    public double OverClipsZ => HighestBed + _profile.Bed.ClipHeightMm + GuardLimits.AboveClipMm + LowerThanNozzle;

    /// <summary>The height of the nozzle at which it would touch the highest bed known of, uncertain by the entered distance.</summary>
    private double HighestBed => HighestTrigger - _profile.Probe.TriggerToNozzleMm + GuardLimits.FloorMarginMm;

    /// <summary>The lowest height that the open step-down leaves, by its floor and the first contact at its place, mm; infinite when none is open.</summary>
    public double StepDownLowestZ => State.StepDown is { } open
        ? Math.Max(open.FloorZ, (GuardRules.FirstContact(this, open.Place) ?? double.NegativeInfinity) - GuardLimits.DeepestBeyondContactMm) - (State.Mesh?.Lowest ?? 0)
        : double.PositiveInfinity;

    private double LowerThanNozzle => State.Probe == ProbePosture.Retracted ? 0 : _profile.Probe.ExtendedBelowNozzleMm;

    private double HighestTrigger
    {
        get
        {
            double unknown = _profile.Probe.TriggerToNozzleMm + GuardLimits.SwitchDatumMm;
            double known = State.HomingTriggerZ ?? State.HighestTouchZ ?? unknown;
            return Math.Max(known, State.HighestTouchZ ?? known);
        }
    }

    private double ClearanceAboveTrigger
    {
        get
        {
            double least = _profile.Probe.ExtendedBelowNozzleMm - _profile.Probe.TriggerToNozzleMm + 1;
            double wanted = State.OffsetVerified
                ? _profile.Travel.ClearanceMm
                : Math.Max(GuardLimits.UnverifiedClearanceMm, _profile.Travel.ClearanceMm);
            return Math.Max(least, wanted);
        }
    }

    /// <summary>A guard that knows nothing yet: no axis homed, position and mesh unknown.</summary>
    public static MotionGuard For(MachineProfile profile)
    {
        ArgumentNullException.ThrowIfNull(profile);
        return new MotionGuard(profile, new GuardState { Offset = profile.Probe.Offset, Probe = AtRest(profile) });
    }

    /// <summary>Whether a motion is safe.</summary>
    /// <returns>Null when it is; the refusal otherwise.</returns>
    public MotionRefusal? Decide(MotionRequest request) => GuardRules.Decide(this, request);

    /// <summary>Axes were homed. A homing of Z begins a new epoch.</summary>
    /// <param name="axes">Which.</param>
    public MotionGuard Homed(Axes axes)
    {
        GuardState next = State with { Homed = State.Homed | axes, Position = null, LiftedUnhomedMm = 0 };
        return axes.HasFlag(Axes.Z)
            ? With(next with
            {
                HomingTriggerZ = _profile.Travel.HomesWithProbe ? -State.Offset.Z : null,
                HighestTouchZ = null,
                Touches = [],
                Contacts = [],
                StepDown = null,
                Laying = null,
                Mesh = null,
                Probe = AtRest(_profile),
            })
            : With(next);
    }

    /// <summary>The controller started anew, or the link was gone: no axis is homed, nothing is known, a halt is over.</summary>
    public MotionGuard Lost() => With(State with
    {
        Homed = Axes.None,
        IsHalted = false,
        Position = null,
        Probe = ProbePosture.Unknown,
        Mesh = null,
        LiftedUnhomedMm = 0,
        StepDown = null,
        Laying = null,
    });

    /// <summary>The halt line was sent, or the controller halted itself.</summary>
    public MotionGuard Halted() => With(Lost().State with { IsHalted = true });

    /// <summary>The motors were released: on purpose, or by the controller's idle time.</summary>
    public MotionGuard MotorsReleased() => Forgotten(Axes.All);

    /// <summary>What axes were homed to was not what it should have been: they count as unhomed.</summary>
    public MotionGuard Forgotten(Axes axes) => With(State with
    {
        Homed = State.Homed & ~axes,
        Position = null,
        LiftedUnhomedMm = 0,
        StepDown = null,
        Laying = null,
    });

    /// <summary>The nozzle lifted without being homed.</summary>
    public MotionGuard LiftedUnhomed(double byMm) =>
        With(State with { LiftedUnhomedMm = State.LiftedUnhomedMm + byMm, Position = null, StepDown = null });

    /// <summary>The nozzle is at a place, as the controller says after motion has finished.</summary>
    public MotionGuard At(NozzlePosition position) => With(State with
    {
        Position = position,
        StepDown = State.StepDown is { } open && SamePlace(open.Place, position) ? open : null,
    });

    /// <summary>Where the nozzle is, is not known until it is asked.</summary>
    public MotionGuard PositionLost() => With(State with { Position = null });

    /// <summary>The probe's tip was extended or retracted, or nobody knows.</summary>
    public MotionGuard ProbeIs(ProbePosture posture) => With(State with { Probe = posture });

    /// <summary>What mesh correction does now; null when that is not known.</summary>
    public MotionGuard MeshIs(MeshInForce? mesh) => With(State with { Mesh = mesh });

    /// <summary>The probe triggered.</summary>
    public MotionGuard Touched(BedPoint place, double z) => With(State with
    {
        HighestTouchZ = Math.Max(z, State.HighestTouchZ ?? z),
        Touches = [.. State.Touches.Where(touch => touch.Place.DistanceTo(place) > GuardLimits.SamePlaceMm), new GuardTouch(place, z)],
    });

    /// <summary>The controller's probe offset is known.</summary>
    public MotionGuard OffsetIs(ProbeOffset offset) => With(State with { Offset = offset });

    /// <summary>The probe offset was written: the epoch has ended, Z must be homed again, and the offset is not verified.</summary>
    public MotionGuard OffsetWritten(ProbeOffset offset) => With(State with
    {
        Offset = offset,
        OffsetVerified = false,
        Homed = State.Homed & ~Axes.Z,
        StepDown = null,
        Laying = null,
        LiftedUnhomedMm = 0,
    });

    /// <summary>The offset was verified, or is doubted again.</summary>
    public MotionGuard OffsetVerified(bool verified) => With(State with { OffsetVerified = verified });

    /// <summary>
    /// Opens a step-down at the nozzle's place. The floor rests on the last touch here in this epoch; a lower trigger height than that is
    /// not believed.
    /// </summary>
    /// <param name="triggerZ">Trigger height here, mm.</param>
    /// <param name="triggerToNozzleMm">The entered trigger-to-nozzle distance, mm, 0 or more.</param>
    /// <exception cref="MotionRefusedException">The nozzle is not over a place that was touched in this epoch, or a number is impossible.</exception>
    public MotionGuard StepDownBegun(double triggerZ, double triggerToNozzleMm)
    {
        GuardTouch touch = GuardRules.TouchUnderNozzle(this, triggerZ, triggerToNozzleMm);
        double trigger = Math.Max(touch.Z, triggerZ);
        double floor = Math.Max(trigger - (triggerToNozzleMm + GuardLimits.FloorMarginMm), _profile.Travel.LowestZ);
        return With(State with
        {
            StepDown = new StepDownOpening(touch.Place, floor, trigger - triggerToNozzleMm + GuardLimits.NearBedMm),
        });
    }

    /// <summary>The nozzle was not free at a height: the highest such height at a place counts.</summary>
    /// <param name="z">The height, mm.</param>
    /// <exception cref="MotionRefusedException">No step-down is open.</exception>
    public MotionGuard Contact(double z)
    {
        if (State.StepDown is not { } open || !double.IsFinite(z))
        {
            throw new MotionRefusedException(new MotionRefusal(RefusalReason.StepDownState, "a contact belongs to a step-down, and none is open."));
        }

        double first = Math.Max(z, GuardRules.FirstContact(this, open.Place) ?? z);
        return With(State with
        {
            Contacts = [.. State.Contacts.Where(contact => contact.Place.DistanceTo(open.Place) > GuardLimits.SamePlaceMm), new GuardTouch(open.Place, first)],
        });
    }

    /// <summary>A first layer is begun.</summary>
    public MotionGuard LayingBegun(double layerHeightMm) => With(State with { Laying = new LayingMode(layerHeightMm, 0) });

    /// <summary>The nozzle was nudged, up positive.</summary>
    public MotionGuard Nudged(double byMm) => With(State with { Laying = State.Laying is { } mode ? mode with { NudgedMm = mode.NudgedMm + byMm } : null });

    /// <summary>The first layer is done, or given up.</summary>
    public MotionGuard LayingEnded() => With(State with { Laying = null });

    /// <summary>Closes the step-down.</summary>
    public MotionGuard StepDownEnded() => With(State with { StepDown = null });

    /// <summary>Whether level travel from here would lead some part of the head against a clip.</summary>
    /// <param name="from">Where the nozzle is.</param>
    /// <param name="to">Where it is to be.</param>
    /// <param name="probeOut">Whether the probe may be extended on the way.</param>
    internal bool MeetsClip(NozzlePosition from, BedPoint to, bool probeOut)
    {
        double needed = HighestBed + _profile.Bed.ClipHeightMm + GuardLimits.AboveClipMm;
        var start = new BedPoint(from.X, from.Y);
        double tip = from.Z + (probeOut || State.Probe != ProbePosture.Retracted ? -_profile.Probe.ExtendedBelowNozzleMm : _profile.Probe.RetractedAboveNozzleMm);
        bool nozzleMeets = from.Z < needed
            && _profile.Bed.Clips.Any(clip => clip.Inset(-ReachableArea.NozzleClipMarginMm).IsCrossedBy(start, to));
        bool probeMeets = tip < needed && _profile.Probe.Kind != ProbeKind.NozzleContact
            && _profile.Bed.Clips.Any(clip => clip.Inset(-ReachableArea.ProbeClipMarginMm).IsCrossedBy(Tip(start), Tip(to)));
        return nozzleMeets || probeMeets;
    }

    internal BedPoint NozzleFor(BedPoint tip) => new(tip.X - State.Offset.X, tip.Y - State.Offset.Y);

    private BedPoint Tip(BedPoint nozzle) => new(nozzle.X + State.Offset.X, nozzle.Y + State.Offset.Y);

    internal ReachableArea ProbeReach => ReachableArea.ForProbe(_profile, State.Offset);

    internal static bool SamePlace(BedPoint place, NozzlePosition position) =>
        place.DistanceTo(new BedPoint(position.X, position.Y)) <= GuardLimits.SamePlaceMm;

    private static ProbePosture AtRest(MachineProfile profile) =>
        profile.Probe.Kind is ProbeKind.MetalSensing or ProbeKind.NozzleContact ? ProbePosture.Retracted : ProbePosture.Unknown;

    private MotionGuard With(GuardState state) => new(_profile, state);
}
