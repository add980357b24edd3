namespace ProbeRunner.Procedures.Operators;

/// <content>Questions of the first lift, of homing, and of each axis seen to move.</content>
public static partial class PromptIds
{
    /// <summary>Hands clear before the first lift.</summary>
    public const string FirstLiftHandsClear = "first-lift.hands-clear";

    /// <summary>no / yes: the nozzle went up, away from the bed.</summary>
    public const string FirstLiftWentUp = "first-lift.went-up";

    /// <summary>nothing / down / other: what it did instead.</summary>
    public const string FirstLiftWhatItDid = "first-lift.what-it-did";

    /// <summary>Hands clear before X is homed.</summary>
    public const string HomeXHandsClear = "home-xy.x-hands-clear";

    /// <summary>no / yes: X ran to its end and stands still.</summary>
    public const string HomeXLooksRight = "home-xy.x-looks-right";

    /// <summary>Hands clear before Y is homed.</summary>
    public const string HomeYHandsClear = "home-xy.y-hands-clear";

    /// <summary>no / yes: Y ran to its end and stands still.</summary>
    public const string HomeYLooksRight = "home-xy.y-looks-right";

    /// <summary>nothing / wrong-way / grinding / other: what an axis did instead of homing.</summary>
    public const string HomeXyWhatItDid = "home-xy.what-it-did";

    /// <summary>Hands clear, one hand at the mains switch, before Z is homed for the first time.</summary>
    public const string FirstHomeZHandsClear = "first-home-z.hands-clear";

    /// <summary>no / yes: the probe touched the bed and the nozzle stands above it.</summary>
    public const string FirstHomeZLooksRight = "first-home-z.looks-right";

    /// <summary>Hands clear before all axes are homed.</summary>
    public const string HomeHandsClear = "home.hands-clear";

    /// <summary>Hands clear before the short move along X.</summary>
    public const string AxisMovesXHandsClear = "axis-moves.x-hands-clear";

    /// <summary>nothing / left / right / other: which way the head went.</summary>
    public const string AxisMovesX = "axis-moves.x";

    /// <summary>Hands clear before the short move along Y.</summary>
    public const string AxisMovesYHandsClear = "axis-moves.y-hands-clear";

    /// <summary>nothing / front / back / other: which way the bed, or on a moving gantry the head, went.</summary>
    public const string AxisMovesY = "axis-moves.y";
}
