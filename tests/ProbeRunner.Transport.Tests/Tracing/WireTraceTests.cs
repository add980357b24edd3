using ProbeRunner.SimulatedPrinter.Time;
using ProbeRunner.Transport.Tracing;

namespace ProbeRunner.Transport.Tests.Tracing;

public class WireTraceTests
{
    [Fact]
    public void The_last_lines_are_kept_in_order_with_their_times() => VirtualTime.Run(async time =>
    {
        var trace = new WireTrace(time, capacity: 3);
        DateTimeOffset began = time.GetUtcNow();
        for (int i = 0; i < 5; i++)
        {
            trace.Record(i % 2 == 0 ? WireDirection.Sent : WireDirection.Received, $"line {i}");
            await Task.Delay(TimeSpan.FromSeconds(1), time);
        }

        Assert.Equal(5, trace.Count);
        Assert.Equal(["line 2", "line 3", "line 4"], trace.Recent().Select(entry => entry.Text));
        Assert.Equal([2.0, 3.0, 4.0], trace.Recent().Select(entry => (entry.Time - began).TotalSeconds));
        Assert.Equal(WireDirection.Received, trace.Recent()[1].Direction);
    });

    [Fact]
    public async Task The_log_file_has_every_line_fit_to_be_seen()
    {
        string folder = Directory.CreateTempSubdirectory("trace").FullName;
        await using (Serilog.Core.Logger log = WireLog.Open(Path.Combine(folder, "wire.log")))
        {
            var trace = new WireTrace(TimeProvider.System, log, capacity: 1);
            trace.Record(WireDirection.Sent, "{0} 10 {x}");
            trace.Record(WireDirection.Received, "ok \u001b[2J");
        }

        string[] lines = await File.ReadAllLinesAsync(Assert.Single(Directory.GetFiles(folder)));
        Assert.EndsWith(" -> {0} 10 {x}", lines[0], StringComparison.Ordinal);
        Assert.EndsWith(" <- ok \\u{1B}[2J", lines[1], StringComparison.Ordinal);
        Directory.Delete(folder, recursive: true);
    }
}
