using ProbeRunner.Console.Commands;
using ProbeRunner.Console.Operators;
using ProbeRunner.Console.Simulation;
using ProbeRunner.Machine.Dialects;
using ProbeRunner.Machine.Printers;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.SimulatedPrinter.Senses;
using ProbeRunner.SimulatedPrinter.Time;
using ProbeRunner.Transport.Commands;
using ProbeRunner.Transport.Links;
using ProbeRunner.Transport.Tracing;
using Serilog.Core;

namespace ProbeRunner.Console.Wiring;

/// <summary>A machine connected and, where it is simulated, the program behind it and the person at it.</summary>
internal sealed class MachineLink : IAsyncDisposable
{
    private readonly SimulatorProcess? simulator;
    private readonly SensesClient? senses;
    private readonly Logger log;
    private readonly ICommandChannel channel;

    private MachineLink(
        ILink link, IPrinter printer, ICommandChannel channel, TimeProvider time, double speed, string portIdentity, SimulatorProcess? simulator, SensesClient? senses, Logger log)
    {
        (Link, Printer, this.channel, Time, Speed, PortIdentity, this.simulator, this.senses, this.log) =
            (link, printer, channel, time, speed, portIdentity, simulator, senses, log);
    }

    /// <summary>The line to the controller; the printer owns it.</summary>
    public ILink Link { get; }

    /// <summary>The machine.</summary>
    public IPrinter Printer { get; }

    /// <summary>What went over the wire of late.</summary>
    public WireTrace Wire => channel.Trace;

    /// <summary>How the link does.</summary>
    public LinkHealth Health => channel.Health;

    /// <summary>Whether lines carry numbers and checksums.</summary>
    public bool IsNumbered => channel.IsNumbered;

    /// <summary>The machine's clock: the wall clock, or one as fast as the simulated printer.</summary>
    public TimeProvider Time { get; }

    /// <summary>How much faster than the wall clock that is.</summary>
    public double Speed { get; }

    /// <summary>The shortest deadline that leaves this computer its real seconds; zero for a real machine.</summary>
    public TimeSpan ShortestWait => Speed > 1 ? TimeSpan.FromSeconds(10 * Speed) : TimeSpan.Zero;

    /// <summary>The port's stable identity.</summary>
    public string PortIdentity { get; }

    /// <summary>Whether there is a simulated person who answers.</summary>
    public bool IsSimulated => senses is not null;

    /// <summary>The simulated person; null when there is none.</summary>
    public IOperator? SimulatedPerson => senses is null ? null : new SimulatedPerson(senses);

    /// <summary>Connects; nothing moves.</summary>
    /// <param name="connection">How the machine is reached.</param>
    /// <param name="profile">The machine.</param>
    /// <param name="dialect">What its controller understands.</param>
    /// <param name="options">How its reports are doubted.</param>
    /// <param name="context">The program's surroundings.</param>
    /// <param name="wireLog">The file every line of the wire is written to, with direction and time.</param>
    /// <param name="cancel">Ends the attempt.</param>
    /// <exception cref="UsageException">The port is not written as one.</exception>
    /// <exception cref="SimulatorFailedException">The simulated printer did not start.</exception>
    /// <exception cref="PortOpenException">The port cannot be opened.</exception>
    /// <exception cref="LinkSilentException">The controller does not answer.</exception>
    public static async Task<MachineLink> ConnectAsync(
        Connection connection, MachineProfile profile, Dialect dialect, PrinterOptions options, ProgramContext context, string wireLog, CancellationToken cancel)
    {
        if (connection is Connection.ToSimulator wanted)
        {
            var simulator = await SimulatorProcess.StartAsync(wanted.Scenario, wanted.Seed, wanted.Speed, wanted.IdleRelease, context, cancel);
            try
            {
                var port = new Connection.ToPort(simulator.Port, null, simulator.Senses, wanted.Speed);
                return await ConnectAsync(port, simulator, profile, dialect, options, context, wireLog, cancel);
            }
            catch
            {
                await simulator.DisposeAsync();
                throw;
            }
        }

        return await ConnectAsync((Connection.ToPort)connection, null, profile, dialect, options, context, wireLog, cancel);
    }

    /// <inheritdoc />
    public async ValueTask DisposeAsync()
    {
        await Printer.DisposeAsync();
        await log.DisposeAsync();
        if (senses is not null)
        {
            await senses.DisposeAsync();
        }

        if (simulator is not null)
        {
            await simulator.DisposeAsync();
        }
    }

    private static async Task<MachineLink> ConnectAsync(
        Connection.ToPort port,
        SimulatorProcess? simulator,
        MachineProfile profile,
        Dialect dialect,
        PrinterOptions options,
        ProgramContext context,
        string wireLog,
        CancellationToken cancel)
    {
        LinkAddress address;
        try
        {
            address = LinkAddress.Parse(port.Port);
        }
        catch (FormatException wrong)
        {
            throw new UsageException(wrong.Message);
        }

        var link = await LinkFactory.OpenAsync(address, new LinkOptions { Baud = port.BaudRate ?? profile.BaudRate }, context.Time, cancel);
        var isScaled = port.Speed > 1;
        TimeProvider time = isScaled ? new ScaledTime(port.Speed) : context.Time;
        var settings = dialect.ChannelOptions with { Times = Waits(dialect.Times, port.Speed) };
        Logger log = WireLog.Open(wireLog);
        var channel = new CommandChannel(link, dialect, time, settings, new WireTrace(time, log));
        var printer = await ProbeRunner.Machine.Printers.Printer.ConnectAsync(channel, dialect, profile, time, options, cancel);
        var senses = port.Senses is { } where ? await SensesClient.ConnectAsync(where, cancel) : null;
        return new MachineLink(link, printer, channel, time, port.Speed, PortIdentities.Of(address), simulator, senses, log);
    }

    /// <summary>A fast simulated printer must not make a wait shorter than a busy computer needs to answer at all.</summary>
    private static ChannelTimes Waits(ChannelTimes usual, double speed)
    {
        if (speed == 1)
        {
            return usual;
        }

        return usual.AtLeast(RealSeconds(2)) with
        {
            Listen = RealSeconds(0.5),
            Quiet = RealSeconds(1),
            Start = RealSeconds(30),
        };

        TimeSpan RealSeconds(double seconds) => TimeSpan.FromSeconds(seconds * speed);
    }
}
