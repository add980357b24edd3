using ProbeRunner.SimulatedPrinter.Physics;

namespace ProbeRunner.SimulatedPrinter.Scenarios;

/// <summary>Where the nozzle can go, in bed coordinates, and how fast. The motors reach as far as the limits, and no farther.</summary>
public sealed record TravelScenario
{
    /// <summary>Least X of the nozzle; where X homes.</summary>
    public double MinX { get; init; }

    /// <summary>Least Y of the nozzle; where Y homes.</summary>
    public double MinY { get; init; }

    /// <summary>Greatest X of the nozzle.</summary>
    public double MaxX { get; init; } = 240;

    /// <summary>Greatest Y of the nozzle.</summary>
    public double MaxY { get; init; } = 240;

    /// <summary>Lowest Z that soft limits let through.</summary>
    public double LowestZ { get; init; }

    /// <summary>Highest Z.</summary>
    public double HighestZ { get; init; } = 240;

    /// <summary>Where homing touches: the probe's tip, by the controller's reckoning; the plate's middle unless given.</summary>
    public double HomingX { get; init; } = 120;

    /// <summary>Where homing touches: the probe's tip, by the controller's reckoning; the plate's middle unless given.</summary>
    public double HomingY { get; init; } = 120;

    /// <summary>Whether the probe is the end switch of Z; otherwise a switch under the gantry is.</summary>
    public bool HomesWithProbe { get; init; } = true;

    /// <summary>Greatest feed of X and Y, mm/s.</summary>
    public double MaxFeedXY { get; init; } = 200;

    /// <summary>Greatest feed of Z, mm/s.</summary>
    public double MaxFeedZ { get; init; } = 15;

    /// <summary>Feed of the controller's own moves between touches, mm/s.</summary>
    public double ProbingFeedXY { get; init; } = 130;

    /// <summary>Feed of homing X and Y, mm/s.</summary>
    public double HomingFeedXY { get; init; } = 50;

    /// <summary>Acceleration of X and Y, mm/s2.</summary>
    public double AccelerationXY { get; init; } = 1000;

    /// <summary>Acceleration of Z, mm/s2.</summary>
    public double AccelerationZ { get; init; } = 100;

    /// <summary>Steps per mm of X and Y.</summary>
    public double StepsPerMmXY { get; init; } = 80;

    /// <summary>Steps per mm of Z: its finest step is one over this.</summary>
    public double StepsPerMmZ { get; init; } = 400;

    /// <summary>Play of Z: moving down, the nozzle stays this much higher than the motor says.</summary>
    public double BacklashZMm { get; init; } = 0.01;

    /// <summary>How far the gantry sinks at most when the motors are released.</summary>
    public double SagMm { get; init; } = 0.05;

    /// <summary>How much higher than the left one the gantry's right end stands, over the bed's width, where each has a drive of its own.</summary>
    public double GantryDifferenceMm { get; init; }

    /// <summary>Standard deviation of how that difference changes each time the motors are released; 0 for one drive.</summary>
    public double GantryReleaseSdMm { get; init; }
}

/// <summary>The probe as it really is; what the controller believes of it is in <see cref="ControllerScenario"/>.</summary>
public sealed record ProbeScenario
{
    /// <summary>True X of its tip minus the nozzle's.</summary>
    public double OffsetX { get; init; } = -38;

    /// <summary>True Y of its tip minus the nozzle's.</summary>
    public double OffsetY { get; init; } = -9;

    /// <summary>The nozzle's height above the bed at the trigger, cold, in the middle of the bed: minus the right stored offset.</summary>
    public double TriggerDistanceMm { get; init; } = 2.15;

    /// <summary>Change of the trigger distance along X, mm per mm.</summary>
    public double LeanX { get; init; }

    /// <summary>Change of the trigger distance along Y, mm per mm.</summary>
    public double LeanY { get; init; }

    /// <summary>Standard deviation of one touch.</summary>
    public double TouchSdMm { get; init; } = 0.004;

    /// <summary>Standard deviation between extensions.</summary>
    public double ExtensionSdMm { get; init; } = 0.003;

    /// <summary>Standard deviation between homings, beside that of the touch and extension they use.</summary>
    public double HomingSdMm { get; init; } = 0.003;

    /// <summary>Share of touches with a large error.</summary>
    public double OutlierShare { get; init; }

    /// <summary>Standard deviation of those.</summary>
    public double OutlierSdMm { get; init; } = 0.05;

    /// <summary>A loose bracket sits in one of two places, this far apart; 0 when it is tight.</summary>
    public double ClickMm { get; init; }

    /// <summary>Chance that an extension makes it change places.</summary>
    public double ClickChance { get; init; } = 0.3;

    /// <summary>Whether it is brought out and in by a command; otherwise it is fixed and senses without reaching below the nozzle.</summary>
    public bool Retracts { get; init; } = true;

    /// <summary>Whether the pin pulls itself in when it is pushed by hand, so that no look sees it triggered.</summary>
    public bool PullsItselfIn { get; init; }

    /// <summary>What is wrong with it from the start.</summary>
    public ProbeDefect Defect { get; init; }

    /// <summary>How far beyond the trigger point the extended pin still reaches down.</summary>
    public double PinBelowTriggerMm { get; init; } = 0.4;

    /// <summary>Time to extend or retract.</summary>
    public double MoveSeconds { get; init; } = 0.3;

    /// <summary>Feed of the touch, mm/s.</summary>
    public double TouchFeed { get; init; } = 5;

    /// <summary>What a fast touch adds to the scatter: this standard deviation at 1 mm/s, growing with the square of the feed.</summary>
    public double HasteSdMm { get; init; }

    /// <summary>How late the trigger is noticed, s; the nozzle stops lower by the feed times this.</summary>
    public double DelaySeconds { get; init; }

    /// <summary>A pin just extended still swings: this standard deviation at first, dying away.</summary>
    public double SwingSdMm { get; init; }

    /// <summary>The time constant with which that dies away, s.</summary>
    public double SwingSeconds { get; init; } = 0.5;

    /// <summary>How far the controller lifts between touches.</summary>
    public double LiftMm { get; init; } = 5;

    /// <summary>How far below where it expects the bed the controller goes before it gives up.</summary>
    public double OvertravelMm { get; init; } = 1.5;
}

/// <summary>The controller's correction mesh, in bed coordinates.</summary>
public sealed record MeshScenario
{
    /// <summary>Nodes along X.</summary>
    public int Columns { get; init; } = 5;

    /// <summary>Nodes along Y.</summary>
    public int Rows { get; init; } = 5;

    /// <summary>X of the leftmost nodes.</summary>
    public double MinX { get; init; } = 20;

    /// <summary>Y of the front nodes.</summary>
    public double MinY { get; init; } = 20;

    /// <summary>X of the rightmost nodes.</summary>
    public double MaxX { get; init; } = 200;

    /// <summary>Y of the back nodes.</summary>
    public double MaxY { get; init; } = 220;
}

/// <summary>Heaters, and what heat does to the machine. Expansion follows the machine's own working time.</summary>
public sealed record HeatScenario
{
    /// <summary>Air and everything cold.</summary>
    public double AmbientCelsius { get; init; } = 21;

    /// <summary>How fast the nozzle heats, K/s.</summary>
    public double NozzleKelvinPerSecond { get; init; } = 3;

    /// <summary>How fast the bed heats, K/s.</summary>
    public double BedKelvinPerSecond { get; init; } = 0.5;

    /// <summary>The nozzle grows by this per kelvin.</summary>
    public double NozzleMmPerKelvin { get; init; } = 0.0003;

    /// <summary>The bed rises by this per kelvin, when everything under it has warmed.</summary>
    public double BedMmPerKelvin { get; init; } = 0.001;

    /// <summary>Time constant with which the bed's height follows its temperature.</summary>
    public double BedLagSeconds { get; init; } = 400;

    /// <summary>The bed's middle rises by this per kelvin against its edges.</summary>
    public double BedDomeMmPerKelvin { get; init; }

    /// <summary>The controller refuses nozzle targets above this.</summary>
    public double NozzleLimitCelsius { get; init; } = 275;

    /// <summary>The controller refuses bed targets above this.</summary>
    public double BedLimitCelsius { get; init; } = 110;
}

/// <summary>The person at the machine, as the senses channel gives them.</summary>
public sealed record PersonScenario
{
    /// <summary>Thickness of the paper.</summary>
    public double PaperMm { get; init; } = 0.1;

    /// <summary>From first drag down to pinched.</summary>
    public double PaperSoftnessMm { get; init; } = 0.06;

    /// <summary>Standard deviation of the person's own feeling.</summary>
    public double FeelSdMm { get; init; } = 0.02;

    /// <summary>Chance of an answer that has nothing to do with the gap.</summary>
    public double LapseChance { get; init; } = 0.02;

    /// <summary>Standard deviation of a hand's turn of a screw, turns.</summary>
    public double ScrewSdTurns { get; init; } = 0.01;

    /// <summary>Plastic laid over a wider gap than this shows gaps between its lines.</summary>
    public double GapsAboveMm { get; init; } = 0.28;

    /// <summary>Plastic laid over a narrower gap than this is squeezed into ridges.</summary>
    public double RidgesBelowMm { get; init; } = 0.12;

    /// <summary>A blob under the nozzle until it is wiped.</summary>
    public double ResidueMm { get; init; }
}
