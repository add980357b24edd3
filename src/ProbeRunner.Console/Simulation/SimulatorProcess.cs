using System.Diagnostics;
using System.Globalization;
using ProbeRunner.Console.Commands;

namespace ProbeRunner.Console.Simulation;

/// <summary>The simulated printer running as a program of its own, as a real printer would: only the wire and the senses connect us.</summary>
internal sealed class SimulatorProcess : IAsyncDisposable
{
    private static readonly TimeSpan StartLimit = TimeSpan.FromSeconds(20);
    private readonly Process process;
    private readonly DirectoryInfo folder;

    private SimulatorProcess(Process process, DirectoryInfo folder, string port, string senses)
    {
        (this.process, this.folder, Port, Senses) = (process, folder, port, senses);
    }

    /// <summary>The port to open: a pseudo-terminal's path, or <c>tcp://127.0.0.1:PORT</c>.</summary>
    public string Port { get; }

    /// <summary>Where the senses of the person at the machine are asked: a socket path or a loopback port.</summary>
    public string Senses { get; }

    /// <summary>Starts the program and waits until it serves.</summary>
    /// <param name="scenario">Scenario name or file.</param>
    /// <param name="seed">Seed of all its noise; null takes the scenario's own.</param>
    /// <param name="speed">How much faster than real its motions are.</param>
    /// <param name="idleRelease">After how long without a motion it releases its motors, on its own clock; null takes the scenario's own.</param>
    /// <exception cref="SimulatorFailedException">It could not be started or refused the scenario.</exception>
    public static async Task<SimulatorProcess> StartAsync(
        string scenario, ulong? seed, double speed, TimeSpan? idleRelease, ProgramContext context, CancellationToken cancel)
    {
        var folder = Directory.CreateTempSubdirectory("proberunner-");
        var usePseudoTerminal = OperatingSystem.IsLinux();
        var port = usePseudoTerminal ? Path.Combine(folder.FullName, "printer") : "";
        var start = new ProcessStartInfo
        {
            FileName = Environment.ProcessPath is { } host && Path.GetFileNameWithoutExtension(host) == "dotnet" ? host : "dotnet",
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            RedirectStandardInput = true,
            UseShellExecute = false,
        };
        start.ArgumentList.Add(Path.Combine(context.ProgramFolder, "ProbeRunner.SimulatedPrinter.dll"));
        Add(start, usePseudoTerminal ? ["--pty", port] : ["--tcp", "0"]);
        Add(start, ["--senses", usePseudoTerminal ? Path.Combine(folder.FullName, "senses") : "0"]);
        Add(start, ["--until-input-ends", "--scenario", scenario, "--speed", speed.ToString("R", CultureInfo.InvariantCulture)]);
        if (seed is { } chosen)
        {
            Add(start, ["--seed", chosen.ToString(CultureInfo.InvariantCulture)]);
        }

        if (idleRelease is { } idle)
        {
            Add(start, ["--idle-release", idle.TotalSeconds.ToString("R", CultureInfo.InvariantCulture)]);
        }

        var process = Process.Start(start) ?? throw new SimulatorFailedException("The simulated printer could not be started.");
        var errors = process.StandardError.ReadToEndAsync(cancel);
        var ready = await process.StandardOutput.ReadLineAsync(cancel).AsTask().WaitAsync(StartLimit, context.Time, cancel);
        if (ready is null)
        {
            throw new SimulatorFailedException((await errors).Trim());
        }

        var served = ReadyLine.Parse(ready);
        return new SimulatorProcess(process, folder, served.Port, served.Senses);
    }

    /// <inheritdoc />
    public async ValueTask DisposeAsync()
    {
        if (!process.HasExited)
        {
            process.Kill();
            await process.WaitForExitAsync();
        }

        process.Dispose();
        folder.Delete(recursive: true);
    }

    private static void Add(ProcessStartInfo start, IEnumerable<string> arguments)
    {
        foreach (var argument in arguments)
        {
            start.ArgumentList.Add(argument);
        }
    }
}
