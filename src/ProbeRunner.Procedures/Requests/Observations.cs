using ProbeRunner.Machine.Heat;

namespace ProbeRunner.Procedures.Requests;

/// <summary>Asks for the temperatures.</summary>
public sealed record ReadTemperatures : Request<Temperatures>
{
    internal override async Task<Temperatures> PerformAsync(Instruments with, CancellationToken cancel)
    {
        Temperatures report = await with.Printer.ReadTemperaturesAsync(cancel);
        with.Bed.Saw(report, with.Clock.Elapsed);
        return report;
    }
}

/// <summary>How long the bed has been at a temperature without a break, as far as this session saw; zero when it is not.</summary>
public sealed record ReadSoak(double BedCelsius) : Request<TimeSpan>
{
    internal override bool MeetsMachine => false;

    internal override Task<TimeSpan> PerformAsync(Instruments with, CancellationToken cancel) => Task.FromResult(with.Bed.Soaked(BedCelsius, with.Clock.Elapsed));
}

/// <summary>Reads the run's clock: time since the run began.</summary>
public sealed record ReadRunClock : Request<TimeSpan>
{
    internal override bool MeetsMachine => false;

    internal override Task<TimeSpan> PerformAsync(Instruments with, CancellationToken cancel) => Task.FromResult(with.Clock.Elapsed);
}
