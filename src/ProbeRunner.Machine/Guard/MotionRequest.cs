using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Heat;

namespace ProbeRunner.Machine.Guard;

/// <summary>A motion somebody wants; the guard says whether it is safe.</summary>
public abstract record MotionRequest
{
    private MotionRequest()
    {
    }

    /// <summary>Up by an amount, relative, homed or not.</summary>
    public sealed record LiftUnhomed(double LiftMm) : MotionRequest;

    /// <summary>Homing.</summary>
    public sealed record Home(Axes Axes) : MotionRequest;

    /// <summary>Level travel of the nozzle at its present height.</summary>
    public sealed record Level(BedPoint Target) : MotionRequest;

    /// <summary>Straight up or down to a height in the present epoch.</summary>
    public sealed record Height(double TargetZ, double FeedMmPerMin) : MotionRequest;

    /// <summary>One touch with the probe's tip at a place.</summary>
    public sealed record Touch(BedPoint Place) : MotionRequest;

    /// <summary>Beginning to lay a first layer.</summary>
    /// <param name="LayerHeightMm">The layer's set height.</param>
    /// <param name="Heat">The last temperatures; null when unknown.</param>
    /// <param name="Now">The time, for their age.</param>
    public sealed record BeginLaying(double LayerHeightMm, Temperatures? Heat, DateTimeOffset Now) : MotionRequest;

    /// <summary>Laying a line to a place, or with no filament coming down to where one begins.</summary>
    public sealed record Lay(BedPoint Target, double Z, double FilamentMm, double FeedMmPerMin) : MotionRequest;

    /// <summary>Shifting the nozzle while a first layer is laid, up positive.</summary>
    /// <param name="ByMm">How far, mm.</param>
    /// <param name="NextLineZ">Z of the line that is laid next, nudges excluded, mm: it must still be allowed afterwards; null when none is known.</param>
    public sealed record Nudge(double ByMm, double? NextLineZ = null) : MotionRequest;

    /// <summary>Bringing the probe into its working position.</summary>
    public sealed record Extend : MotionRequest;

    /// <summary>Taking the probe out of its working position.</summary>
    public sealed record Retract : MotionRequest;
}
