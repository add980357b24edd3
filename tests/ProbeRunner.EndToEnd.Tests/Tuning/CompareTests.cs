using System.Text.Json;
using ProbeRunner.EndToEnd.Tests.Harness;

namespace ProbeRunner.EndToEnd.Tests.Tuning;

/// <summary>Runs compared, followed over time, and carried from store to store.</summary>
public sealed class CompareTests
{
    [Fact]
    public async Task Runs_are_compared_followed_and_carried_to_another_store()
    {
        await using var bench = await Bench.StartAsync(speed: "300");
        var runs = new List<string>();
        for (var day = 0; day < 2; day++)
        {
            await using var capture = bench.Begin("grid", "--set", "columns=4", "--set", "rows=4", "--set", "touches=1");
            Assert.True(await capture.ExitAsync() == 0, capture.Errors);
            runs.Add(JsonEvents.Named(capture.Output, "run-started").Single().GetProperty("run").GetString()!);
        }

        var (compared, comparison, complaint) = await ProgramProcess.RunAsync("compare", runs[0], runs[1], "--store", bench.Store, "--json");
        Assert.True(compared is 0 or 1, complaint);
        var told = JsonDocument.Parse(comparison).RootElement;
        Assert.Equal(runs[0], told.GetProperty("earlier").GetString());
        Assert.Equal(5, told.GetProperty("bed").GetProperty("terms").GetArrayLength());
        Assert.Equal(JsonValueKind.Null, told.GetProperty("offset").ValueKind);

        var (followed, trend, _) = await ProgramProcess.RunAsync("trend", "wren-240", "--simulated", "--store", bench.Store, "--json");
        Assert.Equal(0, followed);
        var flatness = JsonDocument.Parse(trend).RootElement.GetProperty("quantities").EnumerateArray().Single(one => one.GetProperty("key").GetString() == "flatnessMm");
        Assert.Equal(2, flatness.GetProperty("values").GetArrayLength());

        await bench.StoredReadingsAsync(runs[0]);
        var file = bench.File("export/run.jsonl");
        var other = bench.File("other.db");
        Assert.Equal(0, (await ProgramProcess.RunAsync("import", bench.File("export"), "--store", other)).ExitCode);
        Assert.Equal(
            (await ProgramProcess.RunAsync("show", runs[0], "--store", bench.Store)).Output,
            (await ProgramProcess.RunAsync("show", runs[0], "--store", other)).Output);
        await File.WriteAllTextAsync(file, (await File.ReadAllTextAsync(file)).Replace("\"stepIndex\":0", "\"stepIndex\":1", StringComparison.Ordinal));
        var (damaged, _, refusal) = await ProgramProcess.RunAsync("import", file, "--store", bench.File("third.db"));
        Assert.Equal(2, damaged);
        Assert.Contains("Nothing was imported", refusal, StringComparison.Ordinal);
    }
}
