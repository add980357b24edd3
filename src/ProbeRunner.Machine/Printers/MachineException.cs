using ProbeRunner.Machine.Geometry;

namespace ProbeRunner.Machine.Printers;

/// <summary>The machine or its controller broke a promise; the subtypes carry the facts.</summary>
/// <param name="message">What happened, what it means for the machine, what to do now.</param>
public abstract class MachineException(string message) : Exception(message);

/// <summary>A touch ended without a reading: the probe never triggered, was triggered already, or reported a fault.</summary>
/// <param name="place">Where.</param>
/// <param name="line">What the controller said, printable.</param>
public sealed class TouchFailedException(BedPoint place, string line) : MachineException(FormattableString.Invariant(
    $"The probe gave no reading at x {place.X:0.0}, y {place.Y:0.0}: the controller says \"{line}\". Check that the probe moves freely, is plugged in and sees the bed; then clear its fault and try again."))
{
    /// <summary>Where the touch was, bed coordinates.</summary>
    public BedPoint Place { get; } = place;

    /// <summary>What the controller said, printable.</summary>
    public string Line { get; } = line;
}

/// <summary>The probe did not come out, did not go in, or holds a fault.</summary>
/// <param name="wanted">What was wanted, in plain words.</param>
/// <param name="line">What the controller said, printable.</param>
public sealed class ProbeFaultException(string wanted, string line) : MachineException(
    $"The probe did not {wanted}: the controller says \"{line}\". Where its tip is, is not known; nothing comes down. Check its wiring and that it moves freely, then clear its fault.")
{
    /// <summary>What was wanted, in plain words.</summary>
    public string Wanted { get; } = wanted;

    /// <summary>What the controller said, printable.</summary>
    public string Line { get; } = line;
}

/// <summary>An answer of the controller could not be read, however often it was asked.</summary>
/// <param name="what">What was asked for, in plain words.</param>
/// <param name="line">The last answer, printable; empty when there was none.</param>
public sealed class ReportUnreadableException(string what, string line) : MachineException(
    $"The controller's answer about {what} could not be read (\"{line}\"). Nothing was concluded from it. Check the cable and the dialect file.")
{
    /// <summary>What was asked for, in plain words.</summary>
    public string What { get; } = what;

    /// <summary>The last answer, printable.</summary>
    public string Line { get; } = line;
}

/// <summary>Two reports of the same thing never agreed, or what was set was not what was read back.</summary>
/// <param name="what">What was asked for or set, in plain words.</param>
/// <param name="expected">What was set, or the first report.</param>
/// <param name="found">What was read.</param>
public sealed class ReportsDisagreeException(string what, string expected, string found) : MachineException(
    $"The controller's reports about {what} do not agree: {expected} and {found}. Neither is believed. Check the cable, then try again.")
{
    /// <summary>What was asked for or set, in plain words.</summary>
    public string What { get; } = what;

    /// <summary>What was set, or the first report.</summary>
    public string Expected { get; } = expected;

    /// <summary>What was read.</summary>
    public string Found { get; } = found;
}

/// <summary>The nozzle is not where it was sent; whatever rested on it is not to be believed.</summary>
/// <param name="expected">Where it was sent, mm.</param>
/// <param name="found">Where the controller says it is, mm.</param>
public sealed class PositionDiffersException(NozzlePosition expected, NozzlePosition found) : MachineException(FormattableString.Invariant(
    $"The nozzle was sent to x {expected.X:0.###}, y {expected.Y:0.###}, z {expected.Z:0.####} but is at x {found.X:0.###}, y {found.Y:0.###}, z {found.Z:0.####}. Home again before going on."))
{
    /// <summary>Where it was sent, mm.</summary>
    public NozzlePosition Expected { get; } = expected;

    /// <summary>Where the controller says it is, mm.</summary>
    public NozzlePosition Found { get; } = found;
}

/// <summary>The controller, or its dialect, has no such verb; nothing was sent or done.</summary>
/// <param name="verb">What was wanted, in plain words.</param>
public sealed class NotAbleException(string verb) : MachineException(
    $"This controller cannot {verb}. Nothing was done; the step must adapt or a person must do it by hand.")
{
    /// <summary>What was wanted, in plain words.</summary>
    public string Verb { get; } = verb;
}
