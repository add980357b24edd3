namespace ProbeRunner.Console.Screens.Drawing;

/// <summary>What a colour is there to say; the palette decides how that looks. A role is never the only sign: a word or a shape goes with it.</summary>
internal enum Role
{
    /// <summary>The ground of a screen.</summary>
    Ground,

    /// <summary>The ground of a bar or pane that stands out.</summary>
    Raised,

    /// <summary>Ordinary text.</summary>
    Text,

    /// <summary>Less important text.</summary>
    Quiet,

    /// <summary>What the eye should find first.</summary>
    Accent,

    /// <summary>Fit, done, as it should be.</summary>
    Good,

    /// <summary>Undecided, needs attention.</summary>
    Warning,

    /// <summary>Not fit, failed, dangerous.</summary>
    Bad,

    /// <summary>Axes, ticks, scales.</summary>
    Axis,

    /// <summary>Frames and rules.</summary>
    Frame,

    /// <summary>A key to press.</summary>
    Key,

    /// <summary>The ground of what is selected.</summary>
    Selection,

    /// <summary>Text on <see cref="Selection"/>.</summary>
    SelectionText,

    /// <summary>The ground of an alarm.</summary>
    Alarm,

    /// <summary>Text on <see cref="Alarm"/>.</summary>
    AlarmText,

    /// <summary>The bed plate, seen from above.</summary>
    Plate,

    /// <summary>Where nothing may touch or nothing can reach.</summary>
    Hatch,

    /// <summary>The nozzle.</summary>
    Nozzle,

    /// <summary>The probe.</summary>
    Probe,
}
