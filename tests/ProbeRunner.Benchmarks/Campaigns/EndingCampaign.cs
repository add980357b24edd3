using System.Diagnostics;
using ProbeRunner.SimulatedPrinter.Senses;

namespace ProbeRunner.Benchmarks.Campaigns;

/// <summary>
/// How long the heaters stay on after a run that heats hangs, or is asked to end by a signal: real processes over pseudo-terminals at real
/// speed, the four ways side by side. Off is what the simulated machine's own heaters are, not what the program says.
/// </summary>
internal static class EndingCampaign
{
    private static readonly (string Signal, string Way)[] Ways =
        [("-STOP", "hanging (10 s allowed)"), ("-TERM", "asked to end (1 s allowed)"), ("-HUP", "hung up (1 s allowed)"), ("-INT", "interrupted (1 s allowed)")];

    /// <summary>Runs it.</summary>
    /// <param name="output">Where the figures go.</param>
    /// <param name="times">How often each way.</param>
    public static void Run(TextWriter output, int times) => RunAsync(output, times).GetAwaiter().GetResult();

    private static async Task RunAsync(TextWriter output, int times)
    {
        var measured = await Task.WhenAll(Ways.Select((way, index) => OneWayAsync(way.Signal, times, new Random(index + 1))));
        foreach (var (way, seconds) in Ways.Zip(measured))
        {
            var sorted = seconds.Order().ToArray();
            output.WriteLine(FormattableString.Invariant(
                $"{way.Way}, {sorted.Length} times: heaters off after {KillCampaign.At(sorted, 0.5):F2} s median, {KillCampaign.At(sorted, 0.99):F2} s p99, {KillCampaign.At(sorted, 1):F2} s longest"));
        }
    }

    private static async Task<List<double>> OneWayAsync(string signal, int times, Random chance)
    {
        var folder = Directory.CreateTempSubdirectory("ending-campaign-");
        string In(string name) => Path.Combine(folder.FullName, name);
        using var printer = KillCampaign.Start("ProbeRunner.SimulatedPrinter.dll", "--pty", In("port"), "--senses", In("senses"), "--seed", "7");
        await printer.StandardOutput.ReadLineAsync();
        await using var person = await SensesClient.ConnectAsync(In("senses"));
        var seconds = new List<double>();
        for (var time = 0; time < times; time++)
        {
            using var run = KillCampaign.Start(
                "proberunner.dll", "run", "silence-trial", "--machine", "wren-240", "--port", In("port"), "--senses", In("senses"), "--store", In("runs.db"), "--out", In("out"), "--json");
            var told = Task.WhenAll(run.StandardOutput.ReadToEndAsync(), run.StandardError.ReadToEndAsync());
            await KillCampaign.UntilHotAsync(person, run.WaitForExitAsync());
            await Task.Delay(chance.Next(0, 1000));
            seconds.Add(await OffAfterAsync(signal, run.Id, person));
            await run.WaitForExitAsync();
            await told;
        }

        printer.Kill();
        folder.Delete(recursive: true);
        return seconds;
    }

    private static async Task<double> OffAfterAsync(string signal, int process, SensesClient person)
    {
        var watch = Stopwatch.StartNew();
        using var kill = Process.Start("kill", [signal, FormattableString.Invariant($"{process}")]);
        while (await person.AskAsync("look heaters") != "off" && watch.Elapsed.TotalSeconds < 60)
        {
            await Task.Delay(5);
        }

        return watch.Elapsed.TotalSeconds;
    }
}
