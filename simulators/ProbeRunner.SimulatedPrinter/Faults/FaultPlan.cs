using ProbeRunner.SimulatedPrinter.Physics;

namespace ProbeRunner.SimulatedPrinter.Faults;

/// <summary>
/// What goes wrong. Shares are chances per line from 0 to 1, decided by a hash of (seed, direction, ordinal of the line), so that
/// the same plan does the same harm every time; ordinals count from 1.
/// </summary>
public sealed record FaultPlan
{
    /// <summary>Nothing goes wrong.</summary>
    public static readonly FaultPlan None = new();

    /// <summary>Key of the choices.</summary>
    public ulong Seed { get; init; } = 1;

    /// <summary>Share of lines to the controller with one bad byte, line end included.</summary>
    public double BadByteToController { get; init; }

    /// <summary>Share of lines from the controller with one bad byte, line end included.</summary>
    public double BadByteFromController { get; init; }

    /// <summary>Share of lines from the controller that are lost.</summary>
    public double LostFromController { get; init; }

    /// <summary>Share of lines from the controller that come twice.</summary>
    public double DoubledFromController { get; init; }

    /// <summary>Share of lines from the controller that come late, with all that follow.</summary>
    public double LateFromController { get; init; }

    /// <summary>How late.</summary>
    public double LateSeconds { get; init; } = 3;

    /// <summary>Share of lines from the controller that come in two pieces.</summary>
    public double SplitFromController { get; init; }

    /// <summary>The controller resets in the middle of this stretch of motion; 0 for never.</summary>
    public long ResetAtMotion { get; init; }

    /// <summary>Whether the boot banner of that reset is lost.</summary>
    public bool LosesBanner { get; init; }

    /// <summary>The cable is pulled in the middle of this stretch of motion; 0 for never.</summary>
    public long PullCableAtMotion { get; init; }

    /// <summary>The cable is pulled when this line has reached the controller; 0 for never.</summary>
    public long PullCableAtLine { get; init; }

    /// <summary>From this line from the controller on nothing arrives for <see cref="SilentSeconds"/>; 0 for never.</summary>
    public long SilentFromLine { get; init; }

    /// <summary>How long the silence is; what would have been said in it is lost.</summary>
    public double SilentSeconds { get; init; } = 3600;

    /// <summary>From this touch on the probe has a defect; 0 for never.</summary>
    public long DefectFromTouch { get; init; }

    /// <summary>Which.</summary>
    public ProbeDefect Defect { get; init; } = ProbeDefect.NeverTriggers;

    /// <summary>Whether no line can be changed, so that bytes need not be looked at.</summary>
    internal bool SparesInput => BadByteToController == 0 && PullCableAtLine == 0;
}
