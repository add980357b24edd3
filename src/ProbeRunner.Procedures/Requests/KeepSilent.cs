namespace ProbeRunner.Procedures.Requests;

/// <summary>Says nothing to the controller for a time, as if this computer had died.</summary>
public sealed record KeepSilent(TimeSpan Time) : Request<Done>
{
    internal override bool CanBeLeft => true;

    internal override TimeSpan LongestSilence => Time + TimeSpan.FromSeconds(10);

    internal override async Task<Done> PerformAsync(Instruments with, CancellationToken cancel)
    {
        await with.Clock.PassAsync(Time, cancel);
        return default;
    }
}
