namespace ProbeRunner.Machine.Dialects;

/// <summary>What the height in a controller's touch report means.</summary>
public enum TouchReport
{
    /// <summary>The nozzle's height at the trigger plus the stored Z offset: 0 on a perfect bed with a right offset.</summary>
    OffsetIncluded,

    /// <summary>The nozzle's height at the trigger.</summary>
    NozzleHeight,
}
