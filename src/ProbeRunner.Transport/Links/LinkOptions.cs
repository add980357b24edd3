namespace ProbeRunner.Transport.Links;

/// <summary>How a link is opened.</summary>
public sealed record LinkOptions
{
    /// <summary>Bits per second of a serial device, 300 to 4,000,000; 115200 unless said otherwise. Odd rates such as 250000 are set exactly.</summary>
    public int Baud { get; init; } = 115_200;

    /// <summary>What happens to the lines that restart many controllers when the port is opened.</summary>
    public ControlLines ControlLines { get; init; } = ControlLines.LeaveAlone;

    /// <summary>Which class opens a serial device.</summary>
    public SerialBackend Backend { get; init; } = SerialBackend.Automatic;

    /// <summary>How long opening may take with all its attempts; 5 s unless said otherwise.</summary>
    public TimeSpan OpenWithin { get; init; } = TimeSpan.FromSeconds(5);

    /// <summary>How long one attempt at a network connection may take; 2 s unless said otherwise.</summary>
    public TimeSpan AttemptWithin { get; init; } = TimeSpan.FromSeconds(2);

    /// <summary>Where the files lie that keep a second console off a port; null for the user's runtime folder.</summary>
    public string? ClaimFolder { get; init; }
}
