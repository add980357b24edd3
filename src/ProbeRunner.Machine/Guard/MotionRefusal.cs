namespace ProbeRunner.Machine.Guard;

/// <summary>Why the guard refused a motion.</summary>
public enum RefusalReason
{
    /// <summary>A number of the request is not finite.</summary>
    NotANumber,

    /// <summary>An axis that would move, or that the motion's safety rests on, was not homed since the last reset, hang-up, halt or motor release.</summary>
    NotHomed,

    /// <summary>The controller was halted.</summary>
    Halted,

    /// <summary>Where the nozzle is, is not known: ask for the position first.</summary>
    PositionUnknown,

    /// <summary>Level travel below the height at which the lowest part clears everything.</summary>
    BelowClearance,

    /// <summary>The target lies outside the travel limits.</summary>
    OutsideTravel,

    /// <summary>A touch or a descent beside the bed, or too near its edge.</summary>
    OffBed,

    /// <summary>A touch or a descent on a clip.</summary>
    OnClip,

    /// <summary>Below the floor of this place.</summary>
    BelowFloor,

    /// <summary>Deeper than 0.10 mm below the first contact.</summary>
    BeyondContact,

    /// <summary>A step down of more than 0.1 mm near the bed.</summary>
    StepTooLarge,

    /// <summary>Mesh correction is on or its state is unknown, so where the nozzle would really go is not known.</summary>
    MeshCorrectionUnknown,

    /// <summary>The probe is out, or its state is unknown, where the motion needs it in.</summary>
    ProbeExtended,

    /// <summary>The lift before homing is not upward, or more than the profile allows.</summary>
    LiftNotBounded,

    /// <summary>A step-down is open at this place; it must be closed first, or one is needed and none is open.</summary>
    StepDownState,

    /// <summary>No first layer was begun, or what is asked is no part of one.</summary>
    LayingState,

    /// <summary>The Z offset was not proven at the bed.</summary>
    OffsetNotVerified,

    /// <summary>The nozzle is not at its temperature, or that is not known.</summary>
    NotHot,

    /// <summary>A feed outside what the profile allows.</summary>
    FeedOutOfRange,
}

/// <summary>A refusal: the reason and the facts, for a person.</summary>
/// <param name="Reason">Why.</param>
/// <param name="Facts">What was asked and what is allowed, in plain words with numbers.</param>
public sealed record MotionRefusal(RefusalReason Reason, string Facts);
