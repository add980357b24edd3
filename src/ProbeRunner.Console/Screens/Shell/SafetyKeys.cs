using ProbeRunner.Console.Screens.Keys;

namespace ProbeRunner.Console.Screens.Shell;

/// <summary>The keys that hold, stop and halt: the same everywhere, in dialogs and text fields too.</summary>
internal static class SafetyKeys
{
    /// <summary>Hold, or go on.</summary>
    public static Stroke Hold { get; } = Stroke.Function(5);

    /// <summary>Hold, or go on, where there are no function keys.</summary>
    public static Stroke HoldToo { get; } = Stroke.Control('p');

    /// <summary>Stop.</summary>
    public static Stroke Stop { get; } = Stroke.Function(7);

    /// <summary>Stop while the machine is under way, quit while it is not.</summary>
    public static Stroke StopOrQuit { get; } = Stroke.Control('c');

    /// <summary>Halt.</summary>
    public static Stroke Halt { get; } = Stroke.Function(9);

    /// <summary>Halt, where there are no function keys.</summary>
    public static Stroke HaltToo { get; } = Stroke.Control('\\');
}
