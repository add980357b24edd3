using System.Diagnostics;

namespace ProbeRunner.EndToEnd.Tests.Harness;

/// <summary>The program (or the simulated printer) as a process of its own, its lines collected as they come.</summary>
internal sealed class ProgramProcess : IAsyncDisposable
{
    /// <summary>How long any one wait of a test may take before the test has failed.</summary>
    public static readonly TimeSpan Patience = TimeSpan.FromSeconds(90);

    /// <summary>The runtime's own memory is a file too, unless it is told otherwise.</summary>
    private static readonly Dictionary<string, string> MapsNoBigFiles = new() { ["DOTNET_EnableWriteXorExecute"] = "0" };

    private readonly Process process;
    private readonly Lock collecting = new();
    private readonly List<string> output = [];
    private readonly List<string> errors = [];
    private readonly List<(Func<string, bool> Wanted, TaskCompletionSource<string> Seen)> waiting = [];
    private readonly Task drained;

    private ProgramProcess(Process process)
    {
        this.process = process;
        drained = Task.WhenAll(Collect(process.StandardOutput, output), Collect(process.StandardError, errors));
    }

    /// <summary>Everything printed to standard output so far.</summary>
    public string Output => Joined(output);

    /// <summary>Everything printed to standard error so far.</summary>
    public string Errors => Joined(errors);

    /// <summary>The process number.</summary>
    public int Id => process.Id;

    /// <summary>Whether it has ended.</summary>
    public bool HasExited => process.HasExited;

    /// <summary>Starts <c>proberunner</c>.</summary>
    public static ProgramProcess Console(IEnumerable<string> arguments, IReadOnlyDictionary<string, string>? environment = null) =>
        Start("proberunner.dll", arguments, environment);

    /// <summary>Starts <c>proberunner</c> under a shell that lets no file grow beyond a size, as a full disk does at that moment. POSIX only.</summary>
    public static ProgramProcess ConsoleOnAFullDisk(int kilobytes, IEnumerable<string> arguments) => Start(
        new ProcessStartInfo("bash") { ArgumentList = { "-c", $"trap '' XFSZ; ulimit -f {kilobytes}; exec dotnet \"$@\"", "bash" } }, "proberunner.dll", arguments, MapsNoBigFiles);

    /// <summary>Starts the simulated printer.</summary>
    public static ProgramProcess Simulator(IEnumerable<string> arguments) => Start("ProbeRunner.SimulatedPrinter.dll", arguments, null);

    /// <summary>Runs <c>proberunner</c> to its end.</summary>
    public static async Task<(int ExitCode, string Output, string Errors)> RunAsync(params string[] arguments)
    {
        await using var program = Console(arguments);
        return (await program.ExitAsync(), program.Output, program.Errors);
    }

    /// <summary>Waits for the end; its output is then complete.</summary>
    public async Task<int> ExitAsync()
    {
        try
        {
            await process.WaitForExitAsync().WaitAsync(Patience);
            await drained.WaitAsync(Patience);
        }
        catch (TimeoutException)
        {
            throw new TimeoutException($"The program did not end. It said:\n{Output}\n{Errors}");
        }

        return process.ExitCode;
    }

    /// <summary>Waits for a line, printed already or still to come.</summary>
    public async Task<string> LineAsync(Func<string, bool> wanted)
    {
        var seen = new TaskCompletionSource<string>(TaskCreationOptions.RunContinuationsAsynchronously);
        lock (collecting)
        {
            if (output.Concat(errors).FirstOrDefault(wanted) is { } already)
            {
                return already;
            }

            waiting.Add((wanted, seen));
        }

        var first = await Task.WhenAny(seen.Task, drained).WaitAsync(Patience);
        return first == seen.Task || seen.Task.IsCompleted
            ? await seen.Task
            : throw new InvalidOperationException($"The program ended before the line came. It said:\n{Output}\n{Errors}");
    }

    /// <summary>Types a line.</summary>
    public void Type(string line)
    {
        process.StandardInput.WriteLine(line);
        process.StandardInput.Flush();
    }

    /// <summary>Ends it as <c>kill -9</c> does.</summary>
    public async Task KillAsync()
    {
        process.Kill();
        await process.WaitForExitAsync().WaitAsync(Patience);
    }

    /// <inheritdoc />
    public async ValueTask DisposeAsync()
    {
        if (!process.HasExited)
        {
            await KillAsync();
        }

        process.Dispose();
    }

    private static ProgramProcess Start(string assembly, IEnumerable<string> arguments, IReadOnlyDictionary<string, string>? environment) =>
        Start(new ProcessStartInfo("dotnet"), assembly, arguments, environment);

    private static ProgramProcess Start(ProcessStartInfo start, string assembly, IEnumerable<string> arguments, IReadOnlyDictionary<string, string>? environment)
    {
        (start.RedirectStandardInput, start.RedirectStandardOutput, start.RedirectStandardError) = (true, true, true);
        start.ArgumentList.Add(Path.Combine(AppContext.BaseDirectory, assembly));
        foreach (var argument in arguments)
        {
            start.ArgumentList.Add(argument);
        }

        foreach (var (name, value) in environment ?? new Dictionary<string, string>())
        {
            start.Environment[name] = value;
        }

        return new ProgramProcess(Process.Start(start)!);
    }

    private async Task Collect(StreamReader reader, List<string> lines)
    {
        while (await reader.ReadLineAsync() is { } line)
        {
            lock (collecting)
            {
                lines.Add(line);
                foreach (var (_, seen) in waiting.Where(wait => wait.Wanted(line)))
                {
                    seen.TrySetResult(line);
                }
            }
        }
    }

    private string Joined(List<string> lines)
    {
        lock (collecting)
        {
            return string.Join('\n', lines);
        }
    }
}
