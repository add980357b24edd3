using ProbeRunner.Machine.Heat;

namespace ProbeRunner.Procedures.Requests;

/// <summary>Asks for the temperatures.</summary>
public sealed record ReadTemperatures : Request<Temperatures>
{
    internal override Task<Temperatures> PerformAsync(Instruments with, CancellationToken cancel) => with.Printer.ReadTemperaturesAsync(cancel);
}

/// <summary>Reads the run's clock: time since the run began.</summary>
public sealed record ReadRunClock : Request<TimeSpan>
{
    internal override bool MeetsMachine => false;

    internal override Task<TimeSpan> PerformAsync(Instruments with, CancellationToken cancel) => Task.FromResult(with.Clock.Elapsed);
}
