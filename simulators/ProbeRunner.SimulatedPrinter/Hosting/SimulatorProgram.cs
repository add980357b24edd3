using System.CommandLine;
using System.Net.Sockets;
using System.Runtime.InteropServices;
using ProbeRunner.SimulatedPrinter.Faults;
using ProbeRunner.SimulatedPrinter.Scenarios;
using ProbeRunner.SimulatedPrinter.Senses;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.SimulatedPrinter.Hosting;

/// <summary>
/// The simulated printer as a program. It prints one line when it is ready,
/// <c>ready port=ADDRESS senses=PLACE scenario=NAME seed=N speed=F</c>, and ends on a signal, when the senses channel is asked to
/// <c>quit</c>, or, if told so, when its standard input ends.
/// </summary>
internal static class SimulatorProgram
{
    private const int Done = 0;
    private const int WrongUse = 2;

    private static readonly Option<string?> Pty = new("--pty") { Description = "Serve a pseudo-terminal; PATH becomes a link to it." };
    private static readonly Option<int?> Tcp = new("--tcp") { Description = "Serve a TCP port of this computer; 0 for any free one." };
    private static readonly Option<string?> SensesAt = new("--senses") { Description = "Answer for the person at the machine, at a Unix socket's path or a TCP port; 0 for any free one." };
    private static readonly Option<string> ScenarioName = new("--scenario")
    {
        Description = $"A scenario's name ({string.Join(", ", ScenarioFile.Shipped)}) or the path of a file.",
        DefaultValueFactory = _ => "good",
    };

    private static readonly Option<ulong?> Seed = new("--seed") { Description = "Key of all chance; the scenario's own unless given." };
    private static readonly Option<double> Speed = new("--speed") { Description = "Seconds of the machine per second.", DefaultValueFactory = _ => 1 };
    private static readonly Option<string?> Faults = new("--faults") { Description = "What goes wrong: a TOML file, or key=value,key=value." };
    private static readonly Option<double?> IdleRelease = new("--idle-release")
    {
        Description = "After how many idle seconds the motors are released, 0 for never; the scenario's own unless given. A person answers in real time, which a fast machine counts many times over.",
    };

    private static readonly Option<string?> Log = new("--log") { Description = "Add what comes and each touch to FILE, as it happens." };
    private static readonly Option<bool> UntilInputEnds = new("--until-input-ends") { Description = "End when standard input ends, as it does when the program that started this one dies." };

    /// <summary>Runs the program.</summary>
    /// <returns>The exit code: 0 ended as told, 2 wrong use.</returns>
    public static async Task<int> RunAsync(string[] args, TextReader input, TextWriter output, TextWriter errors)
    {
        var root = new RootCommand("A printer that is not there: speaks the wire language of a bench machine over a pseudo-terminal or TCP.");
        foreach (var option in new Option[] { Pty, Tcp, SensesAt, ScenarioName, Seed, Speed, Faults, IdleRelease, Log, UntilInputEnds })
        {
            root.Options.Add(option);
        }

        root.SetAction((parsed, _) => ServeAsync(parsed, input, output));
        var result = root.Parse(args);
        if (result.Errors.Count > 0)
        {
            await errors.WriteLineAsync(string.Join('\n', result.Errors.Select(error => error.Message)));
            return WrongUse;
        }

        try
        {
            return await result.InvokeAsync(new InvocationConfiguration { EnableDefaultExceptionHandler = false, Output = output, Error = errors });
        }
        catch (Exception wrong) when (wrong is ScenarioException or ArgumentException or IOException or SocketException or PlatformNotSupportedException)
        {
            await errors.WriteLineAsync(wrong.Message);
            return WrongUse;
        }
    }

    private static async Task<int> ServeAsync(ParseResult parsed, TextReader input, TextWriter output)
    {
        var scenario = ScenarioFile.Load(parsed.GetValue(ScenarioName)!);
        scenario = scenario with
        {
            Seed = parsed.GetValue(Seed) ?? scenario.Seed,
            Controller = scenario.Controller with { IdleReleaseSeconds = parsed.GetValue(IdleRelease) ?? scenario.Controller.IdleReleaseSeconds },
        };
        var plan = parsed.GetValue(Faults) is { } faults ? FaultFile.Load(faults) : FaultPlan.None;
        var speed = parsed.GetValue(Speed);
        var ended = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        using var terminated = PosixSignalRegistration.Create(PosixSignal.SIGTERM, signal => End(signal, ended));
        // A terminal sends these to every program in it. Whoever started us and holds our input stops the printer in order first.
        var untilInputEnds = parsed.GetValue(UntilInputEnds);
        using var interrupted = PosixSignalRegistration.Create(PosixSignal.SIGINT, signal => EndUnless(untilInputEnds, signal, ended));
        using var hungUp = PosixSignalRegistration.Create(PosixSignal.SIGHUP, signal => EndUnless(untilInputEnds, signal, ended));

        using var log = parsed.GetValue(Log) is { } file ? PrinterLog.AppendTo(file) : null;
        await using var host = SimulatedPrinterHost.Start(null, scenario, speed == 1 ? TimeProvider.System : new ScaledTime(speed), plan);
        if (log is not null)
        {
            host.WriteDown(log);
        }

        await using var senses = parsed.GetValue(SensesAt) is { } place ? SensesServer.Start(host, place) : null;
        var (port, address) = OpenPort(parsed, host);
        await using var opened = port;
        await output.WriteLineAsync(FormattableString.Invariant(
            $"ready port={address} senses={senses?.Place ?? "-"} scenario={scenario.Name} seed={scenario.Seed} speed={speed}"));
        await output.FlushAsync();
        await Task.WhenAny(
            ended.Task, senses?.QuitAsked ?? ended.Task, untilInputEnds ? Task.Run(() => ReadToEnd(input)) : ended.Task);
        return Done;
    }

    private static (IAsyncDisposable Port, string Address) OpenPort(ParseResult parsed, SimulatedPrinterHost host)
    {
        switch (parsed.GetValue(Pty), parsed.GetValue(Tcp))
        {
            case ({ } path, null) when OperatingSystem.IsLinux():
                var pty = PtyPort.Open(host, path);
                return (pty, pty.Address);
            case ({ }, null):
                throw new PlatformNotSupportedException("A pseudo-terminal is served on Linux only; use --tcp PORT.");
            case (null, { } number):
                var tcp = TcpPort.Open(host, number);
                return (tcp, tcp.Address);
            default:
                throw new ArgumentException("Give one of --pty PATH and --tcp PORT.");
        }
    }

    private static void ReadToEnd(TextReader input)
    {
        while (input.Read() >= 0)
        {
        }
    }

    private static void EndUnless(bool held, PosixSignalContext signal, TaskCompletionSource ended)
    {
        signal.Cancel = true;
        if (!held)
        {
            ended.TrySetResult();
        }
    }

    private static void End(PosixSignalContext signal, TaskCompletionSource ended)
    {
        signal.Cancel = true;
        ended.TrySetResult();
    }
}
