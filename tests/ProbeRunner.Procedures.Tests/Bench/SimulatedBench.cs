using ProbeRunner.Machine.Dialects;
using ProbeRunner.Machine.Printers;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Procedures.Scripts;
using ProbeRunner.SimulatedPrinter.Faults;
using ProbeRunner.SimulatedPrinter.Hosting;
using ProbeRunner.SimulatedPrinter.Scenarios;
using ProbeRunner.Transport.Commands;
using ProbeRunner.Transport.Links;

namespace ProbeRunner.Procedures.Tests.Bench;

/// <summary>The real printer, channel and framing over an in-process link to the simulated machine, all on one virtual clock.</summary>
internal sealed class SimulatedBench : IAsyncDisposable
{
    private readonly PrinterOptions? _options;

    private SimulatedBench(TimeProvider time, SimulatedPrinterHost host, Printer printer, MemoryJournal journal, PrinterOptions? options)
    {
        (Time, Host, Printer, Journal, _options) = (time, host, printer, journal, options);
        Person = new SensingPerson(time, host);
    }

    public TimeProvider Time { get; }

    public SimulatedPrinterHost Host { get; }

    public Printer Printer { get; private set; }

    public MemoryJournal Journal { get; }

    public SensingPerson Person { get; }

    public static async Task<SimulatedBench> StartAsync(
        TimeProvider time,
        string scenario,
        ulong? seed = null,
        bool turnedRound = false,
        FaultPlan? faults = null,
        PrinterOptions? options = null,
        Func<Scenario, Scenario>? change = null,
        Func<MachineProfile, MachineProfile>? profile = null)
    {
        Scenario chosen = ScenarioFile.Load(scenario);
        chosen = seed is { } other ? chosen with { Seed = other } : chosen;
        chosen = turnedRound ? chosen with { Screws = [.. chosen.Screws.Select(screw => screw with { ClockwiseRaises = !screw.ClockwiseRaises })] } : chosen;
        chosen = change is null ? chosen : change(chosen);
        (DuplexLink near, DuplexLink far) = DuplexLink.CreatePair("simulated");
        SimulatedPrinterHost host = SimulatedPrinterHost.Start(far, chosen, time, faults);
        return new SimulatedBench(time, host, await ConnectAsync(time, near, chosen.MachineName, options, profile), new MemoryJournal(chosen.Seed), options);
    }

    public async Task<RunOutcome> RunAsync(RunScript script, Action<RunEngine>? with = null)
    {
        var engine = new RunEngine(Printer, Person, Journal, script, Time, new RunOptions("0.1", Simulated: true));
        with?.Invoke(engine);
        return await engine.RunAsync();
    }

    /// <summary>The cable put back and a new session: the controller was never off and kept what it had.</summary>
    public async Task ReconnectAsync()
    {
        Host.PullCable();
        await Printer.DisposeAsync();
        (DuplexLink near, DuplexLink far) = DuplexLink.CreatePair("simulated");
        Host.Plug(far);
        Printer = await ConnectAsync(Time, near, Host.Scenario.MachineName, _options);
    }

    /// <summary>Power cut and a new session: a new link, channel and printer to the same machine.</summary>
    public async Task ComeBackAsync()
    {
        Host.PullCable();
        await Printer.DisposeAsync();
        Host.PowerCycle();
        (DuplexLink near, DuplexLink far) = DuplexLink.CreatePair("simulated");
        Host.Plug(far);
        Printer = await ConnectAsync(Time, near, Host.Scenario.MachineName, _options);
    }

    public T Conclusion<T>()
        where T : StepConclusion =>
        Journal.Entries.Where(entry => entry.Kind == EntryKind.StepEnded).Select(entry => JournalJson.Read<StepConclusion>(entry.Reply)).OfType<T>().Last();

    public async ValueTask DisposeAsync()
    {
        await Printer.DisposeAsync();
        await Host.DisposeAsync();
    }

    private static async Task<Printer> ConnectAsync(TimeProvider time, ILink near, string machine, PrinterOptions? options, Func<MachineProfile, MachineProfile>? change = null)
    {
        var catalogue = new ProfileCatalogue([TestBench.Folder]);
        MachineProfile profile = catalogue.Machine(machine);
        profile = change is null ? profile : change(profile);
        Dialect dialect = catalogue.Dialect(profile.Dialect);
        return await Printer.ConnectAsync(new CommandChannel(near, dialect, time, dialect.ChannelOptions), dialect, profile, time, options);
    }
}
