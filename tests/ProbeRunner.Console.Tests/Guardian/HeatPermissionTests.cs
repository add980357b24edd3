using ProbeRunner.Console.Commands;
using ProbeRunner.Console.Guardian;
using ProbeRunner.Console.Notices;
using ProbeRunner.Console.Wiring;
using ProbeRunner.Procedures.Scripts;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.Procedures.Watches;
using ProbeRunner.Records.Store;
using ProbeRunner.SimulatedPrinter.Time;
using ProbeRunner.Transport.Links;

namespace ProbeRunner.Console.Tests.Guardian;

/// <summary>Heat with nobody there, on a port whose connection no second process can inherit.</summary>
public sealed class HeatPermissionTests : IDisposable
{
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("heat-permission-");

    public void Dispose() => folder.Delete(recursive: true);

    [Fact]
    public void Where_no_guardian_can_hold_the_port_heat_with_nobody_there_is_refused() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        var files = new RunFiles(TestBench.Profile, "", null!, "", RunScript.ForStep("warm-up", []));
        var options = new SessionOptions(null, null, Unattended: true, AllowHeat: TimeSpan.FromMinutes(60), NoticeSettings.None, Json: false, ".", ConfirmEveryReading: false);
        var context = new ProgramContext(TextWriter.Null, TextWriter.Null, TextReader.Null, time, _ => null, AppContext.BaseDirectory, InputIsTerminal: false);
        var (near, far) = DuplexLink.CreatePair("bench");
        await using var nearEnd = near;
        await using var farEnd = far;

        await using var guard = await HeatGuard.ForAsync(files, bench.Journal.Header, near, "", NoticeSettings.None, context, CancellationToken.None);
        UnattendedHeat heat = await HeatPermission.DecideAsync(
            options, guard, files.Script, bench.Printer, RunStore.Open(Path.Combine(folder.FullName, "runs.db")), CancellationToken.None);

        Assert.Null(heat.Limit);
        Assert.Contains(heat.WhyNot, reason => reason.Contains("no second process can hold the port", StringComparison.Ordinal));
    });
}
