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

    /// <summary>The largest nudge of a first layer.</summary>
    public const double LargestNudgeMm = 0.02;

    /// <summary>How far nudges may go in all, either way.</summary>
    public const double NudgeRangeMm = 0.2;

    /// <summary>Filament on a millimetre of way: a line of 1.2 by 0.4 mm out of filament of 1.75 mm takes as much.</summary>
    public const double MostFilamentPerMm = 0.2;

    /// <summary>Below this no plastic is laid, degC: common practice, no source; cold filament is ground up by its drive.</summary>
    public const double LeastLayingCelsius = 170;

    /// <summary>How near to its target the nozzle counts as at temperature, degC.</summary>
    public const double AtTemperatureCelsius = 5;

    /// <summary>How old a temperature report may be.</summary>
    public static readonly TimeSpan FreshTemperature = TimeSpan.FromSeconds(5);

    /// <summary>Rounding of a target in a command, and of the sum behind it.</summary>
    public const double RoundingMm = 0.0001;
}
