namespace ProbeRunner.SimulatedPrinter.Scenarios;

/// <summary>How <c>ok</c> looks.</summary>
public enum OkStyle
{
    /// <summary><c>ok</c></summary>
    Plain,

    /// <summary><c>ok P15 B3</c></summary>
    Buffers,

    /// <summary><c>ok N12 P15 B3</c></summary>
    Numbered,
}

/// <summary>How a resend request looks.</summary>
public enum ResendStyle
{
    /// <summary><c>Resend: 12</c></summary>
    Word,

    /// <summary><c>rs 12</c></summary>
    Abbreviated,

    /// <summary><c>rs N12</c></summary>
    AbbreviatedWithLetter,
}

/// <summary>How a touch is reported.</summary>
public enum TouchReportStyle
{
    /// <summary><c>Bed touched at X: 110.00 Y: 110.00 Z: 0.123</c></summary>
    Labelled,

    /// <summary><c>touch 110.000,110.000 gives z=0.1230</c></summary>
    Positional,
}

/// <summary>Which verbs move the probe.</summary>
public enum ProbeCommandStyle
{
    /// <summary>One command to extend, one to retract.</summary>
    Simple,

    /// <summary>Angles of a servo output.</summary>
    Servo,

    /// <summary>Both.</summary>
    Both,
}

/// <summary>How the controller speaks, what it can do and what it has stored.</summary>
public sealed record ControllerScenario
{
    /// <summary>Whether it understands line numbers and checksums.</summary>
    public bool Checksums { get; init; } = true;

    /// <summary>Whether it takes unnumbered lines.</summary>
    public bool Unnumbered { get; init; } = true;

    /// <summary>Whether a line spoilt at its first letter is answered as an unknown command instead of being refused.</summary>
    public bool SpoiltNumberIsUnknownCommand { get; init; }

    /// <summary>How <c>ok</c> looks.</summary>
    public OkStyle Ok { get; init; }

    /// <summary>How a resend request looks.</summary>
    public ResendStyle Resend { get; init; }

    /// <summary>How a touch is reported.</summary>
    public TouchReportStyle TouchReport { get; init; }

    /// <summary>Whether a touch report includes the stored Z offset.</summary>
    public bool TouchIncludesOffset { get; init; } = true;

    /// <summary>Whether a touch report names the nozzle's place instead of the probe's.</summary>
    public bool TouchNamesNozzlePlace { get; init; }

    /// <summary>Decimals of positions and offsets, 2 to 4.</summary>
    public int Decimals { get; init; } = 3;

    /// <summary>Decimals of a touch's height, 2 to 4.</summary>
    public int TouchDecimals { get; init; } = 3;

    /// <summary>Whether lines end in CR LF.</summary>
    public bool CarriageReturns { get; init; }

    /// <summary>Whether keep-alives and settings carry <c>echo:</c> in front.</summary>
    public bool EchoPrefix { get; init; } = true;

    /// <summary>Time between keep-alives during a long command; 0 for none.</summary>
    public double BusySeconds { get; init; } = 2;

    /// <summary>Whether a client that opens the link resets the controller.</summary>
    public bool ResetsOnOpen { get; init; }

    /// <summary>Time from a reset to the end of the boot banner.</summary>
    public double BootSeconds { get; init; } = 1.5;

    /// <summary>Whether it can store settings.</summary>
    public bool StoresSettings { get; init; } = true;

    /// <summary>Whether it reports its settings.</summary>
    public bool ReportsSettings { get; init; } = true;

    /// <summary>Whether it has a correction mesh.</summary>
    public bool HasMesh { get; init; } = true;

    /// <summary>Whether mesh nodes can be written.</summary>
    public bool WritesMesh { get; init; } = true;

    /// <summary>Whether mesh correction stays on through a homing.</summary>
    public bool KeepsMeshOnHoming { get; init; }

    /// <summary>Whether the offset report is the command itself with its values.</summary>
    public bool OffsetReportIsCommand { get; init; }

    /// <summary>Whether temperatures come on the <c>ok</c> line.</summary>
    public bool TemperaturesOnOk { get; init; } = true;

    /// <summary>Which verbs move the probe.</summary>
    public ProbeCommandStyle ProbeCommands { get; init; } = ProbeCommandStyle.Both;

    /// <summary>Whether the halt line is seen during a long command.</summary>
    public bool HaltSeenWhenBusy { get; init; } = true;

    /// <summary>Whether it says <c>wait</c> when idle.</summary>
    public bool SaysWait { get; init; }

    /// <summary>Time between unasked remarks; 0 for none.</summary>
    public double RemarkSeconds { get; init; }

    /// <summary>Motors are released after standing still this long; 0 for never.</summary>
    public double IdleReleaseSeconds { get; init; } = 600;

    /// <summary>Heaters go off when no line came for this long; 0 for never.</summary>
    public double SilenceHeatersOffSeconds { get; init; }

    /// <summary>Moves it queues before it makes the sender wait.</summary>
    public int QueuedMoves { get; init; } = 16;

    /// <summary>Lines it can hold unread, as the <c>B</c> field counts them down.</summary>
    public int QueuedLines { get; init; } = 4;

    /// <summary>Whether a dwell's <c>P</c> counts milliseconds, as common in this trade; seconds otherwise, as in RS274/NGC.</summary>
    public bool DwellCountsMilliseconds { get; init; } = true;

    /// <summary>Stored X offset of the probe.</summary>
    public double StoredOffsetX { get; init; } = -38;

    /// <summary>Stored Y offset of the probe.</summary>
    public double StoredOffsetY { get; init; } = -9;

    /// <summary>Stored Z offset of the probe.</summary>
    public double StoredOffsetZ { get; init; } = -1.5;
}
