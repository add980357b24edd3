using ProbeRunner.Machine.Heat;

namespace ProbeRunner.Machine.Printers;

/// <summary>Something that nobody asked for.</summary>
public abstract record PrinterEvent
{
    private PrinterEvent()
    {
    }

    /// <summary>The controller restarted: axes unhomed, heaters off, live settings are the stored ones.</summary>
    public sealed record ControllerReset(string Banner) : PrinterEvent;

    /// <summary>A temperature report.</summary>
    public sealed record TemperaturesReported(Temperatures Temperatures) : PrinterEvent;

    /// <summary>The link is gone.</summary>
    public sealed record LinkLost(string Why) : PrinterEvent;

    /// <summary>A line was refused and sent again.</summary>
    public sealed record LineSentAgain(int Attempt) : PrinterEvent;

    /// <summary>A line nobody asked for, printable.</summary>
    public sealed record Remark(string Text) : PrinterEvent;
}
