using System.Collections.Concurrent;
using ProbeRunner.SimulatedPrinter.Hosting;
using ProbeRunner.SimulatedPrinter.Physics;
using ProbeRunner.SimulatedPrinter.Scenarios;
using ProbeRunner.SimulatedPrinter.Senses;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.EndToEnd.Tests.Harness;

/// <summary>
/// The simulated printer in the tests' own process, on a pseudo-terminal that the program opens as it would a machine's. Beside each question
/// to the person's senses, when nothing moves, the test may write down what is really so.
/// </summary>
internal sealed class PrinterHere : ISenses, IAsyncDisposable
{
    private readonly SimulatedPrinterHost host;
    private PtyPort? port;
    private SensesServer senses = null!;

    private PrinterHere(SimulatedPrinterHost host) => this.host = host;

    /// <summary>What the printer is.</summary>
    public Scenario Scenario => host.Scenario;

    /// <summary>What is really so. Read it while nothing moves.</summary>
    public Truth Truth => host.Truth;

    /// <summary>Called with each question before it is answered; nothing moves then.</summary>
    public Action<string, Truth> Asked { get; set; } = (_, _) => { };

    /// <summary>What went wrong in <see cref="Asked"/>, if anything did.</summary>
    public ConcurrentQueue<Exception> Faults { get; } = [];

    /// <summary>Starts it.</summary>
    public static PrinterHere Start(string scenario, ulong seed, double speed, string port, string senses)
    {
        var host = SimulatedPrinterHost.Start(null, ScenarioFile.Load(scenario) with { Seed = seed }, new ScaledTime(speed));
        var printer = new PrinterHere(host);
        printer.port = OperatingSystem.IsLinux() ? PtyPort.Open(host, port) : throw new PlatformNotSupportedException();
        printer.senses = SensesServer.Start(printer, senses);
        return printer;
    }

    /// <inheritdoc />
    public Task<string> AskAsync(string question, CancellationToken cancel = default)
    {
        try
        {
            Asked(question, host.Truth);
        }
        catch (Exception fault)
        {
            Faults.Enqueue(fault);
        }

        return host.AskAsync(question, cancel);
    }

    /// <inheritdoc />
    public async ValueTask DisposeAsync()
    {
        await senses.DisposeAsync();
        if (OperatingSystem.IsLinux() && port is not null)
        {
            await port.DisposeAsync();
        }

        await host.DisposeAsync();
    }
}
