namespace ProbeRunner.Procedures.Operators;

/// <summary>Questions of the levelling of a gantry with two Z drives.</summary>
public static partial class PromptIds
{
    /// <summary>Hands clear before Z is homed and the gantry rises.</summary>
    public const string GantryLevelRiseHandsClear = "gantry-level.rise-hands-clear";

    /// <summary>Acknowledge: equal blocks stand on the frame under both ends; the motors are let go next.</summary>
    public const string GantryLevelBlocks = "gantry-level.blocks";

    /// <summary>call-off / left-off / right-off / both-rest: which end of the gantry is off its block.</summary>
    public const string GantryLevelEnds = "gantry-level.ends";

    /// <summary>Acknowledge: the drive of one end was turned by hand until that end rests; which end is in <see cref="Prompt.About"/>.</summary>
    public const string GantryLevelTurn = "gantry-level.turn";

    /// <summary>Hands clear before the gantry lifts off the blocks.</summary>
    public const string GantryLevelLiftHandsClear = "gantry-level.lift-hands-clear";

    /// <summary>Acknowledge: the blocks were taken away.</summary>
    public const string GantryLevelBlocksOut = "gantry-level.blocks-out";

    /// <summary>Hands clear before all axes are homed again.</summary>
    public const string GantryLevelHomeHandsClear = "gantry-level.home-hands-clear";
}
