namespace ProbeRunner.Machine.Guard;

/// <summary>The guard's fixed limits, mm.</summary>
public static class GuardLimits
{
    /// <summary>The largest step down near the bed.</summary>
    public const double LargestStepMm = 0.1;

    /// <summary>How deep below the first contact the nozzle may go.</summary>
    public const double DeepestBeyondContactMm = 0.10;

    /// <summary>What the floor leaves below the entered trigger-to-nozzle distance.</summary>
    public const double FloorMarginMm = 0.5;

    /// <summary>How far above the expected contact "near the bed" begins: twice the uncertainty of the entered distance.</summary>
    public const double NearBedMm = 1.0;

    /// <summary>Height of level travel above the highest touch, until an offset is verified.</summary>
    public const double UnverifiedClearanceMm = 5;

    /// <summary>How uncertain a switch's datum is before anything was touched.</summary>
    public const double SwitchDatumMm = 2;

    /// <summary>The smallest lift before homing: a smaller one could be rounded downwards.</summary>
    public const double LeastLiftMm = 0.1;

    /// <summary>What is kept above a clip.</summary>
    public const double AboveClipMm = 1;

    /// <summary>How near a touch must be to count as one at the nozzle's place.</summary>
    public const double SamePlaceMm = 0.5;

    /// <summary>Rounding of a target in a command, and of the sum behind it.</summary>
    public const double RoundingMm = 0.0001;
}
