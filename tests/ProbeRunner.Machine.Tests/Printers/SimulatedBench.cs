using ProbeRunner.Machine.Printers;
using ProbeRunner.SimulatedPrinter.Faults;
using ProbeRunner.SimulatedPrinter.Hosting;
using ProbeRunner.SimulatedPrinter.Scenarios;
using ProbeRunner.SimulatedPrinter.Time;
using ProbeRunner.Transport.Commands;
using ProbeRunner.Transport.Links;

namespace ProbeRunner.Machine.Tests.Printers;

/// <summary>A printer connected to a simulated one over virtual time, with nothing faked in between.</summary>
internal sealed class SimulatedBench(Printer printer, SimulatedPrinterHost host, CommandChannel channel, VirtualTime time)
{
    public Printer Printer => printer;

    public SimulatedPrinterHost Host => host;

    public CommandChannel Channel => channel;

    public VirtualTime Time => time;

    public static void Run(
        Scenario scenario, Func<SimulatedBench, Task> body, FaultPlan? faults = null, PrinterOptions? options = null, bool requireUnharmed = true) =>
        VirtualTime.Run(async time =>
        {
            (DuplexLink near, DuplexLink far) = DuplexLink.CreatePair("bench");
            await using var host = SimulatedPrinterHost.Start(far, scenario, time, faults);
            var channel = new CommandChannel(near, Shipped.LineAck, time, Shipped.LineAck.ChannelOptions);
            await using Printer printer = await Printer.ConnectAsync(
                channel, Shipped.LineAck, Shipped.Catalogue.Machine(scenario.MachineName), time, options);
            await body(new SimulatedBench(printer, host, channel, time));
            Assert.True(!requireUnharmed || (host.Truth.Scratches.Count == 0 && host.Truth.IllegalMoves.Count == 0));
            Assert.Equal(0, time.ForeignPosts);
        });

    public static Scenario Good(Func<ControllerScenario, ControllerScenario>? change = null)
    {
        Scenario scenario = ScenarioFile.Load("good");
        return change is null ? scenario : scenario with { Controller = change(scenario.Controller) };
    }
}
