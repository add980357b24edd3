using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Printers;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Settings;
using ProbeRunner.SimulatedPrinter.Faults;
using ProbeRunner.SimulatedPrinter.Hosting;
using ProbeRunner.SimulatedPrinter.Scenarios;
using ProbeRunner.SimulatedPrinter.Time;
using ProbeRunner.Transport.Commands;
using ProbeRunner.Transport.Links;

namespace ProbeRunner.EndToEnd.Tests.Wire;

/// <summary>The typed printer, its dialect and the command channel over the simulated printer's wire, in virtual time.</summary>
public class PrinterOverTheWireTests
{
    private static readonly ProfileCatalogue Catalogue = new([Path.Combine(Root(), "profiles")]);

    [Theory]
    [InlineData("good")]
    [InlineData("tilted")]
    [InlineData("warped")]
    [InlineData("leaning-gantry")]
    [InlineData("far-corner")]
    [InlineData("heron-good")]
    public void Readings_are_the_truth_within_their_noise_and_a_step(string name)
    {
        var scenario = ScenarioFile.Load(name);
        Run(scenario, FaultPlan.None, async (printer, simulated) =>
        {
            var noise = 4.5 * Math.Sqrt(Math.Pow(scenario.Probe.TouchSdMm, 2) + Math.Pow(scenario.Probe.ExtensionSdMm, 2));
            var tolerance = noise + (1 / scenario.Travel.StepsPerMmZ);
            foreach (var place in new[] { new BedPoint(60, 60), new BedPoint(180, 70), new BedPoint(110, 190) })
            {
                var reading = await printer.TouchAsync(place, CancellationToken.None);
                var touch = simulated.Truth.Touches[^1];
                Assert.Equal(touch.TrueZ, reading.Z, tolerance);
                Assert.InRange(new BedPoint(touch.X, touch.Y).DistanceTo(place), 0, 0.5);
            }

            Assert.Empty(simulated.Truth.IllegalMoves);
            Assert.Empty(simulated.Truth.Scratches);
        });
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void One_bad_byte_in_a_tenth_of_the_lines_sent_gives_the_same_readings(ulong faultSeed)
    {
        var clean = Grid(FaultPlan.None);
        Assert.Equal(clean, Grid(new FaultPlan { Seed = faultSeed, BadByteToController = 0.1 }));
    }

    [Theory]
    [MemberData(nameof(Variants))]
    public void A_controller_of_any_kind_is_homed_touched_and_changed(string kind, Func<ControllerScenario, ControllerScenario> change)
    {
        Assert.NotEmpty(kind);
        var scenario = ScenarioFile.Load("good");
        Run(scenario with { Controller = change(scenario.Controller) }, FaultPlan.None, async (printer, simulated) =>
        {
            await printer.TouchAsync(new BedPoint(100, 100), CancellationToken.None);
            await printer.ReadTemperaturesAsync(CancellationToken.None);
            var written = await printer.WriteProbeOffsetAsync(new ProbeOffset(-38, -9, -2.15), CancellationToken.None);
            Assert.Equal(-2.15, written.Z, 0.006);
            Assert.Equal(-2.15, simulated.Truth.LiveOffsetZ, 9);
        });
    }

    public static TheoryData<string, Func<ControllerScenario, ControllerScenario>> Variants => new()
    {
        { "as it is", controller => controller },
        { "rs n", controller => controller with { Resend = ResendStyle.Abbreviated } },
        { "ok with number and buffers", controller => controller with { Ok = OkStyle.Numbered } },
        { "ok with buffers", controller => controller with { Ok = OkStyle.Buffers } },
        { "positional touch reports", controller => controller with { TouchReport = TouchReportStyle.Positional } },
        { "two decimals", controller => controller with { Decimals = 2 } },
        { "four decimals", controller => controller with { Decimals = 4, TouchDecimals = 4 } },
        { "carriage returns", controller => controller with { CarriageReturns = true } },
        { "no echo prefix", controller => controller with { EchoPrefix = false } },
        { "temperatures before ok", controller => controller with { TemperaturesOnOk = false } },
        { "no checksums", controller => controller with { Checksums = false } },
        { "numbers wanted", controller => controller with { Unnumbered = false } },
        { "no store", controller => controller with { StoresSettings = false } },
        { "no settings report", controller => controller with { ReportsSettings = false } },
        { "no mesh", controller => controller with { HasMesh = false } },
        { "mesh nodes cannot be written", controller => controller with { WritesMesh = false } },
        { "offset report as a command", controller => controller with { OffsetReportIsCommand = true } },
        { "resets when opened", controller => controller with { ResetsOnOpen = true } },
        { "says wait when idle", controller => controller with { SaysWait = true } },
        { "makes remarks", controller => controller with { RemarkSeconds = 3 } },
        { "busy twice a second", controller => controller with { BusySeconds = 0.5 } },
        { "silent when busy", controller => controller with { BusySeconds = 0 } },
        { "few queued moves", controller => controller with { QueuedMoves = 1 } },
    };

    private static List<double> Grid(FaultPlan plan)
    {
        List<double> heights = [];
        Run(ScenarioFile.Load("warped"), plan, async (printer, _) =>
        {
            for (var index = 0; index < 16; index++)
            {
                heights.Add((await printer.TouchAsync(new BedPoint(40 + (index % 4 * 50), 40 + (index / 4 * 50)), CancellationToken.None)).Z);
            }
        });
        return heights;
    }

    private static void Run(Scenario scenario, FaultPlan plan, Func<Printer, SimulatedPrinterHost, Task> body) => VirtualTime.Run(
        async time =>
        {
            var (near, far) = DuplexLink.CreatePair("bench");
            await using var simulated = SimulatedPrinterHost.Start(far, scenario, time, plan);
            var dialect = Catalogue.Dialect("line-ack");
            await using var printer = await Printer.ConnectAsync(
                new CommandChannel(near, dialect, time), dialect, Catalogue.Machine(scenario.MachineName), time);
            await printer.LiftUnhomedAsync(5, CancellationToken.None);
            await printer.HomeAsync(Axes.XY, CancellationToken.None);
            await printer.HomeAsync(Axes.Z, CancellationToken.None);
            await body(printer, simulated);
            Assert.Equal(0, time.ForeignPosts);
        },
        limit: TimeSpan.FromDays(1));

    private static string Root()
    {
        DirectoryInfo? folder = new(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "ProbeRunner.sln")))
        {
            folder = folder.Parent;
        }

        return folder?.FullName ?? throw new InvalidOperationException("ProbeRunner.sln was not found above the tests.");
    }
}
