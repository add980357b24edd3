namespace ProbeRunner.Procedures.Steps;

/// <summary>What a run has established so far; steps need some and give some.</summary>
[Flags]
public enum Milestones
{
    /// <summary>Nothing.</summary>
    None = 0,

    /// <summary>The machine was looked over and its settings read.</summary>
    LookedOver = 1,

    /// <summary>The nozzle is clear of the bed.</summary>
    Lifted = 2,

    /// <summary>X and Y are homed.</summary>
    HomedXY = 4,

    /// <summary>Z is homed.</summary>
    HomedZ = 8,

    /// <summary>The probe was proven in the air.</summary>
    ProbeTested = 16,

    /// <summary>The probe's repeatability was judged and found fit.</summary>
    Repeatable = 32,

    /// <summary>The Z offset was measured and written.</summary>
    OffsetKnown = 64,

    /// <summary>The bed was captured.</summary>
    Captured = 128,

    /// <summary>The correction mesh was handed over.</summary>
    MeshKnown = 256,

    /// <summary>The settings were stored.</summary>
    Stored = 512,

    /// <summary>The offset was proven at the bed.</summary>
    OffsetVerified = 1024,

    /// <summary>The gantry's ends were levelled, or it has one Z drive only.</summary>
    GantryLevel = 2048,
}
