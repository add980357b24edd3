namespace ProbeRunner.Console.Screens.Start;

/// <summary>On which port a run is taken up again.</summary>
/// <param name="Port">The port; null when there is none to take it up on.</param>
/// <param name="Words">How the port is named in the question, or why there is none and what to do.</param>
internal sealed record ResumePort(PortChoice? Port, string Words)
{
    /// <summary>
    /// The run's own port wherever it is plugged in now, whatever is chosen: another would be refused once it is connected. A run on the
    /// simulated printer goes on on the one that is chosen.
    /// </summary>
    /// <param name="identity">The port the run is on record with; empty when the record can't be read.</param>
    /// <param name="isSimulated">Whether it was begun on the simulated printer.</param>
    /// <param name="ports">The ports there are now.</param>
    /// <param name="chosen">The port that is chosen; null for none.</param>
    public static ResumePort Of(string identity, bool isSimulated, IReadOnlyList<PortChoice> ports, PortChoice? chosen)
    {
        if (ports.FirstOrDefault(port => port.Name == identity) is { } own)
        {
            return new ResumePort(own, $"{own.Title}, the port it was on");
        }

        if (identity.Length > 0 && !isSimulated)
        {
            return new ResumePort(null, $"The run was on {identity}, which is not there now. Nothing was touched. Plug that machine in, wait for its controller to start, then r looks again.");
        }

        return chosen is null || (isSimulated && !chosen.IsSimulated)
            ? new ResumePort(null, isSimulated ? "The run was on a simulated printer: choose one as the port first (2)." : "Choose the port the machine is on first (2).")
            : new ResumePort(chosen, chosen.Title);
    }
}
