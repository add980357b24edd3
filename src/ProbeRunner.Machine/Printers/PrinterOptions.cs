namespace ProbeRunner.Machine.Printers;

/// <summary>How a printer's reports are doubted.</summary>
public sealed record PrinterOptions
{
    /// <summary>Only what is surprising is confirmed.</summary>
    public static PrinterOptions Default { get; } = new();

    /// <summary>Whether the first thing said in the session is that the heaters go off: nobody is there, or a run was cut off before.</summary>
    public bool HeatersOffFirst { get; init; }

    /// <summary>Whether every reading is confirmed by a second touch; otherwise only a surprising one, and any while the link damages replies.</summary>
    public bool ConfirmEveryReading { get; init; }

    /// <summary>How often a report is asked for, or a touch taken, until it is readable or two agree, 2 to 20; 8 unless said otherwise.</summary>
    public int AttemptsToAgree { get; init; } = 8;

    /// <summary>How far apart two touches of one place may be and still agree, mm; 0.05 unless said otherwise.</summary>
    public double AgreementMm { get; init; } = 0.05;

    /// <summary>For how many touches after an unreadable reply each reading is confirmed; 20 unless said otherwise.</summary>
    public int TouchesInDoubt { get; init; } = 20;

    /// <summary>
    /// The idle time after which a controller is taken to release its motors when it neither says nor can be told; 60 s unless said otherwise.
    /// </summary>
    public TimeSpan AssumedIdleRelease { get; init; } = TimeSpan.FromSeconds(60);

    /// <summary>The idle time set on a controller that does not say its own but can be told; 15 minutes unless said otherwise.</summary>
    public TimeSpan IdleReleaseToSet { get; init; } = TimeSpan.FromMinutes(15);
}
