using System.Diagnostics;
using System.Globalization;
using System.Text.Json;
using ProbeRunner.EndToEnd.Tests.Harness;
using ProbeRunner.Records.Store;
using ProbeRunner.SimulatedPrinter.Senses;

namespace ProbeRunner.Benchmarks.Campaigns;

/// <summary>
/// Kills a run that heats and captures, again and again at random moments, and resumes it: real processes over a pseudo-terminal. Counts
/// readings that were acknowledged and lost, readings stored twice, how long the heaters stayed on after each death, and, by the printer's own
/// count of its touches beside the readings in the store, how many touches each kill made necessary again.
/// </summary>
internal static class KillCampaign
{
    private const int Side = 40;

    /// <summary>One kill in so many comes at any moment of a session, the others while a heater is on.</summary>
    private const int AnyMoment = 8;

    private const string Speed = "40";

    /// <summary>Runs it.</summary>
    /// <param name="output">Where the figures go.</param>
    /// <param name="kills">How many; one run takes as many as fall into it, then another is begun.</param>
    /// <param name="seed">Chooses the moments.</param>
    public static void Run(TextWriter output, int kills, int seed = 20261125) => RunAsync(output, kills, seed).GetAwaiter().GetResult();

    private static async Task RunAsync(TextWriter output, int kills, int seed)
    {
        var tally = new Tally();
        var chance = new Random(seed);
        while (tally.Kills < kills)
        {
            var folder = Directory.CreateTempSubdirectory("kill-campaign-");
            await OneRunAsync(folder.FullName, kills, chance, tally);
            folder.Delete(recursive: true);
            output.WriteLine(FormattableString.Invariant($"{tally.Kills} kills so far, {tally.Lost} lost, {tally.Doubled} twice"));
        }

        var delays = tally.HotSeconds.Order().ToArray();
        output.WriteLine(FormattableString.Invariant(
            $"{tally.Kills} kills in {tally.Runs} runs: {tally.Acknowledged} readings acknowledged, {tally.Lost} lost, {tally.Doubled} stored twice"));
        output.WriteLine(FormattableString.Invariant(
            $"{tally.Touches} touches by the printer's own count for {tally.Stored} stored: {tally.Repeated.Sum()} repeated, at most {tally.Repeated.DefaultIfEmpty().Max()} after a kill"));
        output.WriteLine(FormattableString.Invariant(
            $"heaters on at {delays.Length} deaths; off after {At(delays, 0.5):F2} s median, {At(delays, 0.99):F2} s p99, {At(delays, 1):F2} s longest; {delays.Count(delay => delay > 2)} later than 2 s"));
    }

    private static async Task OneRunAsync(string folder, int kills, Random chance, Tally tally)
    {
        string In(string name) => Path.Combine(folder, name);
        await File.WriteAllTextAsync(In("heat.toml"), WarmGrid.Script(Side));
        using var printer = Start("ProbeRunner.SimulatedPrinter.dll", "--pty", In("port"), "--senses", In("senses"), "--speed", Speed, "--seed", "7", "--log", In("printer.log"));
        await printer.StandardOutput.ReadLineAsync();
        await using var person = await SensesClient.ConnectAsync(In("senses"));
        string[] common = ["--senses", In("senses"), "--speed", Speed, "--store", In("runs.db"), "--out", In("out"), "--json"];
        var acknowledged = new HashSet<string>();
        string? run = null;
        var repeatedBefore = 0;
        for (var ended = false; !ended;)
        {
            using var session = run is null
                ? Start("proberunner.dll", ["run", In("heat.toml"), "--machine", "wren-240", "--port", In("port"), .. common])
                : Start("proberunner.dll", ["resume", run, "--port", In("port"), .. common]);
            var reading = ReadAsync(session, acknowledged);
            var isFirst = run is null;
            run = await reading.Run;
            if (!isFirst)
            {
                // A touch that was under way at the kill is over by now, and the new session has not touched yet.
                var repeated = TouchesDone(In) - StoredReadings(run, In);
                tally.Repeated.Add(repeated - repeatedBefore);
                repeatedBefore = repeated;
            }

            ended = tally.Kills >= kills;
            Task over = session.WaitForExitAsync();
            if (!ended && chance.Next(AnyMoment) > 0)
            {
                await UntilHotAsync(person, over);
            }

            await Task.WhenAny(over, Task.Delay(ended ? Timeout.Infinite : chance.Next(0, 3000)));
            if (!session.HasExited)
            {
                await KillAsync(session, person, tally);
                await reading.All;
                continue;
            }

            ended = true;
            await reading.All;
        }

        printer.Kill();
        tally.Runs++;
        await CountAsync(run!, In, acknowledged, tally);
    }

    internal static async Task UntilHotAsync(SensesClient person, Task over)
    {
        while (!over.IsCompleted && await person.AskAsync("look heaters") == "off")
        {
            await Task.Delay(10);
        }
    }

    private static async Task KillAsync(Process session, SensesClient person, Tally tally)
    {
        var wasHot = await person.AskAsync("look heaters") != "off";
        session.Kill();
        var watch = Stopwatch.StartNew();
        await session.WaitForExitAsync();
        tally.Kills++;
        if (!wasHot)
        {
            return;
        }

        while (await person.AskAsync("look heaters") != "off" && watch.Elapsed.TotalSeconds < 60)
        {
            await Task.Delay(5);
        }

        tally.HotSeconds.Add(watch.Elapsed.TotalSeconds);
    }

    private static async Task CountAsync(string run, Func<string, string> inFolder, HashSet<string> acknowledged, Tally tally)
    {
        using var export = Start("proberunner.dll", "export", run, "-o", inFolder("export"), "--store", inFolder("runs.db"));
        await export.WaitForExitAsync();
        var stored = await File.ReadAllLinesAsync(inFolder("export/readings.csv"));
        var columns = stored[0].Split(',');
        int At(string name) => Array.FindIndex(columns, column => column.StartsWith(name, StringComparison.OrdinalIgnoreCase));
        var (x, y, z) = (At("x"), At("y"), At("z"));
        var keys = stored.Skip(1).Select(line => line.Split(',')).Select(fields => Key(Number(fields[x]), Number(fields[y]), Number(fields[z]))).ToHashSet();
        tally.Stored += stored.Length - 1;
        tally.Doubled += stored.Length - 1 - stored.Skip(1).Distinct().Count();
        tally.Acknowledged += acknowledged.Count;
        tally.Lost += acknowledged.Count(reading => !keys.Contains(reading));
        tally.Touches += TouchesDone(inFolder);
    }

    private static int TouchesDone(Func<string, string> inFolder)
    {
        using var log = new StreamReader(new FileStream(inFolder("printer.log"), FileMode.Open, FileAccess.Read, FileShare.ReadWrite));
        return log.ReadToEnd().Split('\n').Count(line => line.StartsWith("touch ", StringComparison.Ordinal));
    }

    private static int StoredReadings(string run, Func<string, string> inFolder) =>
        RunStore.OpenExisting(inFolder("runs.db")).Read(run).Steps.Sum(step => step.Readings.Length);

    internal static double At(double[] sorted, double share) => sorted.Length == 0 ? 0 : sorted[(int)((sorted.Length - 1) * share)];

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);

    private static string Key(double x, double y, double z) => FormattableString.Invariant($"{x:F4} {y:F4} {z:F5}");

    private static (Task<string> Run, Task All) ReadAsync(Process session, HashSet<string> acknowledged)
    {
        var run = new TaskCompletionSource<string>(TaskCreationOptions.RunContinuationsAsynchronously);
        return (run.Task, ReadAllAsync());

        async Task ReadAllAsync()
        {
            while (await session.StandardOutput.ReadLineAsync() is { } line)
            {
                var told = JsonDocument.Parse(line).RootElement;
                switch (told.GetProperty("event").GetString())
                {
                    case "run-started":
                        run.TrySetResult(told.GetProperty("run").GetString()!);
                        break;
                    case "reading":
                        acknowledged.Add(Key(told.GetProperty("x").GetDouble(), told.GetProperty("y").GetDouble(), told.GetProperty("z").GetDouble()));
                        break;
                }
            }

            run.TrySetException(new InvalidOperationException($"The run did not begin: {await session.StandardError.ReadToEndAsync()}"));
        }
    }

    internal static Process Start(string assembly, params string[] arguments)
    {
        var start = new ProcessStartInfo("dotnet") { RedirectStandardInput = true, RedirectStandardOutput = true, RedirectStandardError = true };
        foreach (var argument in (string[])[Path.Combine(AppContext.BaseDirectory, assembly), .. arguments])
        {
            start.ArgumentList.Add(argument);
        }

        return Process.Start(start)!;
    }

    private sealed class Tally
    {
        public int Kills { get; set; }

        public int Runs { get; set; }

        public int Acknowledged { get; set; }

        public int Stored { get; set; }

        public int Lost { get; set; }

        public int Doubled { get; set; }

        public int Touches { get; set; }

        public List<int> Repeated { get; } = [];

        public List<double> HotSeconds { get; } = [];
    }
}
