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
/// <param name="BedCelsius">The temperature, degC.</param>
/// <param name="Needed">How long the step wants it to have been so: what a resume has to give the bed again. Null when the step wants nothing.</param>
public sealed record ReadSoak(double BedCelsius, TimeSpan? Needed) : Request<TimeSpan>
{
    internal override bool MeetsMachine => false;

    internal override Engine.MachineState After(Engine.MachineState before, TimeSpan reply) => before with { SoakNeeded = Needed ?? before.SoakNeeded };

    internal override Task<TimeSpan> PerformAsync(Instruments with, CancellationToken cancel) => Task.FromResult(with.Bed.Soaked(BedCelsius, with.Clock.Elapsed));
}

/// <summary>Reads the run's clock: time since the run began.</summary>
public sealed record ReadRunClock : Request<TimeSpan>
{
    internal override bool MeetsMachine => false;

    internal override Task<TimeSpan> PerformAsync(Instruments with, CancellationToken cancel) => Task.FromResult(with.Clock.Elapsed);
}
