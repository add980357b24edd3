using System.Diagnostics;
using System.Globalization;

namespace ProbeRunner.Records.Tests.Child;

/// <summary>A running child that appends rows to a store.</summary>
internal sealed class WritingProcess : IDisposable
{
    private readonly Process _process;

    private WritingProcess(ProcessStartInfo how)
    {
        how.RedirectStandardOutput = true;
        how.RedirectStandardError = true;
        _process = Process.Start(how)!;
        _process.ErrorDataReceived += (_, _) => { };
        _process.BeginErrorReadLine();
    }

    public int Id => _process.Id;

    public static WritingProcess Start(string store, string runId, int count) =>
        new(new ProcessStartInfo("dotnet", [typeof(Program).Assembly.Location, store, runId, count.ToString(CultureInfo.InvariantCulture)]));

    /// <summary>The same, but no file may grow beyond a size: the write fails then, as on a full disk. (The runtime's own mapped memory would hit that limit too, so it does without.)</summary>
    public static WritingProcess StartOnFullDisk(string store, string runId, int count, int mostKibibytes) =>
        new(new ProcessStartInfo(
            "bash",
            [
                "-c", "trap '' XFSZ; ulimit -f \"$1\"; shift; DOTNET_EnableWriteXorExecute=0 exec dotnet \"$@\"", "bash",
                mostKibibytes.ToString(CultureInfo.InvariantCulture),
                typeof(Program).Assembly.Location, store, runId, count.ToString(CultureInfo.InvariantCulture),
            ]));

    public string? ReadLine() => _process.StandardOutput.ReadLine();

    /// <summary>Kills it at once (SIGKILL) and returns what it had said by then.</summary>
    public string[] KillAndReadTheRest()
    {
        _process.Kill();
        return ReadTheRest();
    }

    /// <summary>What it says until it ends.</summary>
    public string[] ReadTheRest()
    {
        string rest = _process.StandardOutput.ReadToEnd();
        _process.WaitForExit();
        return rest.Split('\n', StringSplitOptions.RemoveEmptyEntries);
    }

    public void Dispose()
    {
        if (!_process.HasExited)
        {
            _process.Kill();
        }

        _process.Dispose();
    }
}
