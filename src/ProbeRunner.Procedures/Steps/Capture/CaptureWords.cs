namespace ProbeRunner.Procedures.Steps.Capture;

/// <summary>How a capture speaks of time.</summary>
internal static class CaptureWords
{
    /// <summary>A duration for people: "about 7 h 40 min", "about 12 min", "less than a minute".</summary>
    public static string Duration(TimeSpan time) => time switch
    {
        { TotalMinutes: < 1 } => "less than a minute",
        { TotalHours: < 1 } => FormattableString.Invariant($"about {Math.Round(time.TotalMinutes):0} min"),
        _ => FormattableString.Invariant($"about {Math.Floor(time.TotalHours):0} h {time.Minutes} min"),
    };
}
