using ProbeRunner.Machine.Geometry;

namespace ProbeRunner.Machine.Touches;

/// <summary>One probe trigger.</summary>
/// <param name="Place">The bed point under the probe's tip, mm.</param>
/// <param name="Z">The nozzle's height at the trigger, mm, in its datum epoch, with the stored offset excluded and mesh correction off. A high bed gives a larger Z.</param>
/// <param name="At">When the report came: the session's start by the wall clock plus monotonic time since, so that a clock jump reorders nothing.</param>
/// <param name="DatumEpoch">Which homing Z refers to: counts the homings of Z in this session, from 1.</param>
/// <param name="Suspect">Whether it needed a second report or touch to be believed.</param>
public readonly record struct Reading(BedPoint Place, double Z, DateTimeOffset At, int DatumEpoch, bool Suspect);
