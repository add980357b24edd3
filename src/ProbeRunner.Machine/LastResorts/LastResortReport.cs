using ProbeRunner.Machine.Heat;

namespace ProbeRunner.Machine.LastResorts;

/// <summary>What became of the attempt to switch the heaters off from outside the run.</summary>
/// <param name="Sent">Whether the operating system took the lines that switch them off.</param>
/// <param name="ConfirmedOff">Whether the controller said twice, afterwards, that both are off.</param>
/// <param name="Last">The last temperatures that it told; null when it told none.</param>
public sealed record LastResortReport(bool Sent, bool ConfirmedOff, Temperatures? Last)
{
    /// <summary>What happened, what it means, what to do, in sentences.</summary>
    public string Words => (Sent, ConfirmedOff) switch
    {
        (_, true) => "The heaters were switched off, and the controller confirmed it. The parts stay hot for a while.",
        (true, false) when Last is { } last => FormattableString.Invariant(
            $"Switch off at the mains now: the heaters were told to switch off, but the controller still says nozzle target {last.NozzleTargetCelsius:0}, bed target {last.BedTargetCelsius:0} degC."),
        (true, false) => "Switch off at the mains now: the heaters were told to switch off, but the controller did not answer.",
        _ => "Switch off at the mains now: the line to the controller is gone, so the heaters could not be switched off.",
    };
}
