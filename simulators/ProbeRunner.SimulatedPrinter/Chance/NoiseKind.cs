namespace ProbeRunner.SimulatedPrinter.Chance;

/// <summary>What a draw is for. The numbers are part of every recorded seed: add at the end, change none.</summary>
internal enum NoiseKind
{
    Touch = 1,
    Extension = 2,
    Homing = 3,
    Click = 4,
    Feel = 5,
    FeelLapse = 6,
    Screw = 7,
    StartPlace = 8,
    Sag = 9,
    Eye = 10,
    TouchTail = 11,
    Flicker = 12,
    GantryRelease = 13,
    LineToController = 20,
    LineFromController = 21,
    Identity = 30,
}
