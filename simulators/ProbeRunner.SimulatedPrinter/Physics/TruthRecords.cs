namespace ProbeRunner.SimulatedPrinter.Physics;

/// <summary>A touch as it truly was.</summary>
/// <param name="Ordinal">Counts all triggers of the probe, homing's included, from 1.</param>
/// <param name="DatumEpoch">The homings of Z before it.</param>
/// <param name="X">The bed point truly under the probe's tip, mm.</param>
/// <param name="Y">The bed point truly under the probe's tip, mm.</param>
/// <param name="TrueZ">The nozzle's height at a trigger without noise and steps, mm, in the controller's Z of that moment, offset excluded.</param>
/// <param name="MeasuredZ">What the controller measured, mm, offset excluded.</param>
/// <param name="Seconds">Working time of the machine, s.</param>
/// <param name="ByHoming">Whether it was part of a homing.</param>
public readonly record struct TrueTouch(
    long Ordinal, int DatumEpoch, double X, double Y, double TrueZ, double MeasuredZ, double Seconds, bool ByHoming);

/// <summary>The nozzle in the bed.</summary>
/// <param name="X">Where it was deepest, mm.</param>
/// <param name="Y">Where it was deepest, mm.</param>
/// <param name="DepthMm">How deep, mm, more than 0.</param>
/// <param name="LengthMm">How far it was dragged in the move, mm; 0 for a move straight down.</param>
/// <param name="Seconds">Working time of the machine, s.</param>
public readonly record struct Scratch(double X, double Y, double DepthMm, double LengthMm, double Seconds);

/// <summary>A move that a careful person would not have made.</summary>
/// <param name="Kind">What was wrong with it.</param>
/// <param name="DX">How far it went, mm.</param>
/// <param name="DY">How far it went, mm.</param>
/// <param name="DZ">How far it went, mm.</param>
/// <param name="Seconds">Working time of the machine, s.</param>
public readonly record struct IllegalMove(IllegalMoveKind Kind, double DX, double DY, double DZ, double Seconds);

/// <summary>What was wrong with a move.</summary>
public enum IllegalMoveKind
{
    /// <summary>An axis moved that was not homed. Straight up by at most 10 mm before homing is no illegal move.</summary>
    Unhomed,

    /// <summary>The motors drove against the end of travel.</summary>
    EndOfTravel,

    /// <summary>The nozzle or the pin hit a clip.</summary>
    Clip,

    /// <summary>The extended pin was dragged over the bed.</summary>
    PinDragged,
}
