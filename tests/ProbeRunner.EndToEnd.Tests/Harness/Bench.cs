using System.Globalization;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Records.Runs;
using ProbeRunner.Records.Store;
using ProbeRunner.SimulatedPrinter.Senses;

namespace ProbeRunner.EndToEnd.Tests.Harness;

/// <summary>A simulated printer as a process of its own on a pseudo-terminal, and runs of the program on it.</summary>
internal sealed class Bench : IAsyncDisposable
{
    private const string PrinterLog = "printer.log";

    private readonly TemporaryFolder folder = new();
    private readonly string speed;
    private readonly List<IAsyncDisposable> simulators;

    private Bench(IAsyncDisposable simulator, TemporaryFolder folder, string speed, string port) =>
        (simulators, this.folder, this.speed, Port) = ([simulator], folder, speed, port);

    /// <summary>The port: a path, or an address on the network.</summary>
    public string Port { get; }

    /// <summary>The store's file.</summary>
    public string Store => folder.File("runs.db");

    /// <summary>A path in the bench's own folder.</summary>
    public string File(string name) => folder.File(name);

    /// <summary>
    /// Starts the printer and waits until it serves. A pause of this computer is a pause of the machine as many times as long as
    /// the machine is fast: too fast, and waiting for lost replies lets the controller release its motors.
    /// </summary>
    public static async Task<Bench> StartAsync(string scenario = "good", string? faults = null, int seed = 7, string speed = "100")
    {
        var folder = new TemporaryFolder();
        string[] broken = faults is null ? [] : ["--faults", faults];
        var simulator = ProgramProcess.Simulator(
            ["--pty", folder.File("port"), "--senses", folder.File("senses"), "--scenario", scenario, "--seed", $"{seed}", "--speed", speed, "--log", folder.File(PrinterLog), .. broken]);
        await simulator.LineAsync(line => line.StartsWith("ready ", StringComparison.Ordinal));
        return new Bench(simulator, folder, speed, folder.File("port"));
    }

    /// <summary>Starts the printer on a pseudo-terminal of this process, so that what is really so can be looked at.</summary>
    public static (Bench Bench, PrinterHere Printer) StartHere(string scenario = "good", string speed = "100", ulong seed = 7)
    {
        var folder = new TemporaryFolder();
        var printer = PrinterHere.Start(scenario, seed, double.Parse(speed, CultureInfo.InvariantCulture), folder.File("port"), folder.File("senses"));
        return (new Bench(printer, folder, speed, folder.File("port")), printer);
    }

    /// <summary>Starts the printer on a network port.</summary>
    public static async Task<Bench> StartOnNetworkAsync(string speed, string scenario = "good")
    {
        var folder = new TemporaryFolder();
        var simulator = ProgramProcess.Simulator(["--tcp", "0", "--senses", folder.File("senses"), "--seed", "7", "--speed", speed, "--log", folder.File(PrinterLog), "--scenario", scenario]);
        var ready = await simulator.LineAsync(line => line.StartsWith("ready ", StringComparison.Ordinal));
        return new Bench(simulator, folder, speed, ready.Split(' ')[1]["port=".Length..]);
    }

    /// <summary>
    /// Unplugs the machine and plugs one in at another pseudo-terminal; the link at <see cref="Port"/> leads there from then on, as a port's
    /// stable name does.
    /// </summary>
    public async Task PlugInElsewhereAsync(string scenario)
    {
        await simulators[0].DisposeAsync();
        var other = ProgramProcess.Simulator(
            ["--pty", folder.File("other-port"), "--senses", folder.File("other-senses"), "--scenario", scenario, "--seed", "7", "--speed", speed, "--log", folder.File(PrinterLog)]);
        simulators[0] = other;
        await other.LineAsync(line => line.StartsWith("ready ", StringComparison.Ordinal));
        foreach (var name in (string[])["port", "senses"])
        {
            System.IO.File.Delete(folder.File(name));
            System.IO.File.CreateSymbolicLink(folder.File(name), folder.File($"other-{name}"));
        }
    }

    /// <summary>The printer's process, to be killed.</summary>
    public int PrinterProcess => ((ProgramProcess)simulators[0]).Id;

    /// <summary>Bytes that the printer has received so far, from whomever.</summary>
    public int BytesReceived => LoggedByPrinter("received").Sum(words => int.Parse(words[1], System.Globalization.CultureInfo.InvariantCulture));

    /// <summary>Where the printer was touched so far, homing left out: x and y of each touch that triggered.</summary>
    public IReadOnlyList<(string X, string Y)> TouchesDone => [.. LoggedByPrinter("touch").Select(words => (words[1], words[2]))];

    /// <summary>How often the controller started anew.</summary>
    public int Restarts => LoggedByPrinter("restart").Count();

    /// <summary>Begins a run that tells itself as JSON.</summary>
    public ProgramProcess Begin(string script, params string[] more) => BeginOn("wren-240", script, more);

    /// <summary>Begins a run on a machine of another profile.</summary>
    public ProgramProcess BeginOn(string machine, string script, params string[] more) =>
        ProgramProcess.Console(["run", script, "--machine", machine, "--seed", "7", .. Common, .. more]);

    /// <summary>The record of a run that told itself as JSON and has ended.</summary>
    public RunRecord RecordOf(ProgramProcess run) => RunStore.OpenExisting(Store).Read(
        JsonEvents.Named(run.Output, "run-started").Single().GetProperty("run").GetString()!);

    /// <summary>The last conclusion of a kind that such a run came to.</summary>
    public T Concluded<T>(ProgramProcess run)
        where T : StepConclusion => RecordOf(run).Conclusion<T>() ?? throw new InvalidOperationException($"There is no {typeof(T).Name}. The run said:\n{run.Output}\n{run.Errors}");

    /// <summary>Begins a run on a disk that is full once a file has grown to a size.</summary>
    public ProgramProcess BeginOnAFullDisk(int kilobytes, string script, params string[] more) =>
        ProgramProcess.ConsoleOnAFullDisk(kilobytes, ["run", script, "--machine", "wren-240", "--seed", "7", .. Common, .. more]);

    /// <summary>Begins a run that is to be kept in another store than the bench's.</summary>
    public ProgramProcess BeginWithStore(string store, string script) =>
        ProgramProcess.Console(["run", script, "--machine", "wren-240", "--port", Port, "--store", store, "--json"]);

    /// <summary>Begins a run with nobody simulated at the machine: its questions wait for somebody to type.</summary>
    public ProgramProcess BeginWithoutPerson(string script, string port, IReadOnlyDictionary<string, string>? environment = null) =>
        ProgramProcess.Console(["run", script, "--machine", "wren-240", "--port", port, "--store", Store, "--out", folder.File("out"), "--json"], environment);

    /// <summary>Takes a run up again.</summary>
    public ProgramProcess Resume(string run, params string[] more) => ProgramProcess.Console(["resume", run, .. Common, .. more]);

    /// <summary>Takes a run up again without saying where the machine is.</summary>
    public ProgramProcess ResumeWithoutPort(string run) => ProgramProcess.Console(["resume", run, .. Common.Skip(2)]);

    /// <summary>The id of a run that has just begun.</summary>
    public static async Task<string> RunIdAsync(ProgramProcess run)
    {
        var started = await run.LineAsync(line => line.Contains("run-started", StringComparison.Ordinal));
        return System.Text.Json.JsonDocument.Parse(started).RootElement.GetProperty("run").GetString()!;
    }

    /// <summary>Puts settings back as a run found them.</summary>
    public ProgramProcess Restore(string run) => ProgramProcess.Console(["restore", run, .. Common]);

    /// <summary>A person at the simulated machine.</summary>
    public Task<SensesClient> SensesAsync() => SensesClient.ConnectAsync(folder.File("senses"));

    /// <summary>The readings of a run as the store has them: x, y, z and whether they count.</summary>
    public async Task<List<string>> StoredReadingsAsync(string run)
    {
        var (exitCode, _, errors) = await ProgramProcess.RunAsync("export", run, "-o", folder.File("export"), "--store", Store);
        Assert.True(exitCode == 0, errors);
        return [.. System.IO.File.ReadLines(folder.File("export/readings.csv")).Skip(1)];
    }

    /// <inheritdoc />
    public async ValueTask DisposeAsync()
    {
        await simulators[0].DisposeAsync();
        folder.Dispose();
    }

    private IEnumerable<string[]> LoggedByPrinter(string what)
    {
        using var shared = new StreamReader(new FileStream(folder.File(PrinterLog), FileMode.Open, FileAccess.Read, FileShare.ReadWrite));
        return [.. shared.ReadToEnd().Split('\n').Select(line => line.Split(' ')).Where(words => words[0] == what)];
    }

    private string[] Common =>
        ["--port", Port, "--senses", folder.File("senses"), "--speed", speed, "--store", Store, "--out", folder.File("out"), "--json"];
}
