using System.Text;
using ProbeRunner.Machine.LastResorts;
using ProbeRunner.Machine.Tests.Printers;
using ProbeRunner.SimulatedPrinter.Hosting;
using ProbeRunner.SimulatedPrinter.Scenarios;
using ProbeRunner.SimulatedPrinter.Time;
using ProbeRunner.Transport.Links;

namespace ProbeRunner.Machine.Tests.LastResorts;

/// <summary>The heaters switched off over a bare link, after whoever had the session has died.</summary>
public sealed class LastResortTests
{
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(3);

    [Fact]
    public void A_line_left_unfinished_does_not_swallow_it() => Run(async (link, host, time) =>
    {
        await SayAsync(link, "M104 S200\nM140 S60\nN17 G1 X10");

        LastResortReport report = await new LastResort(link, Shipped.LineAck, time).RunAsync(Patience);

        Assert.True(report.ConfirmedOff);
        Assert.Equal((0, 0), host.Truth.HeaterTargets);
        Assert.InRange(host.Truth.WorkingSeconds, 0, 2);
    });

    [Fact]
    public void A_controller_that_was_numbered_takes_the_plain_lines() => SimulatedBench.Run(SimulatedBench.Good(), async bench =>
    {
        await bench.Printer.SetHeaterTargetsAsync(150, 50, default);
        Assert.True(bench.Channel.IsNumbered);

        Assert.True(bench.Printer.InterjectHeatersOff());
        await bench.Printer.ReadTemperaturesAsync(default);

        Assert.Equal((0, 0), bench.Host.Truth.HeaterTargets);
        Assert.False(!bench.Printer.Now.Temperatures!.Value.HeatersOff);
    });

    [Fact]
    public void A_controller_busy_with_a_touch_confirms_it_when_the_touch_is_over_and_nothing_else_moves() => Run(async (link, host, time) =>
    {
        await SayAsync(link, "G28\n");
        await Task.Delay(TimeSpan.FromMinutes(1), time);
        int touches = host.Truth.Touches.Count;
        await SayAsync(link, "M104 S200\nG30 X100 Y100\n");

        LastResortReport report = await new LastResort(link, Shipped.LineAck, time).RunAsync(Patience);

        Assert.True(report.ConfirmedOff);
        Assert.Equal((0, 0), host.Truth.HeaterTargets);
        Assert.Equal(touches + 1, host.Truth.Touches.Count);
        Assert.Empty(host.Truth.IllegalMoves);
    });

    [Fact]
    public void A_report_from_before_the_heaters_were_on_is_not_taken_for_the_answer() => VirtualTime.Run(async time =>
    {
        (DuplexLink near, DuplexLink far) = DuplexLink.CreatePair("stuck");
        await SayAsync(far, "ok T:21.0 /0.0 B:21.0 /0.0 @:0 B@:0\nok T:21.0 /0.0 B:21.0 /0.0 @:0 B@:0\n");
        Task answering = AnswerAsync(far, " T:180.0 /200.0 B:60.0 /60.0 @:0 B@:0\nok\n", time);

        LastResortReport report = await new LastResort(near, Shipped.LineAck, time).RunAsync(TimeSpan.FromSeconds(20));

        Assert.True(report.Sent);
        Assert.False(report.ConfirmedOff);
        Assert.Equal(200, report.Last!.Value.NozzleTargetCelsius);
        Assert.Contains("Switch off at the mains", report.Words, StringComparison.Ordinal);
        await near.DisposeAsync();
        await answering;
    });

    [Fact]
    public void A_silent_controller_gets_few_lines_and_the_person_the_alarm() => VirtualTime.Run(async time =>
    {
        (DuplexLink near, DuplexLink far) = DuplexLink.CreatePair("silent");
        LastResortReport report = await new LastResort(near, Shipped.LineAck, time).RunAsync(Patience);

        var heard = new byte[65_536];
        int count = await far.ReadAsync(heard, default);
        Assert.False(report.ConfirmedOff);
        Assert.InRange(count, 20, 2000);
        Assert.Contains("did not answer", report.Words, StringComparison.Ordinal);
    });

    [Fact]
    public void A_line_that_is_gone_is_told_as_such() => VirtualTime.Run(async time =>
    {
        (DuplexLink near, DuplexLink far) = DuplexLink.CreatePair("gone");
        await far.DisposeAsync();

        LastResortReport report = await new LastResort(near, Shipped.LineAck, time).RunAsync(Patience);

        Assert.Equal(new LastResortReport(Sent: false, ConfirmedOff: false, Last: null), report);
    });

    private static void Run(Func<DuplexLink, SimulatedPrinterHost, TimeProvider, Task> body) => VirtualTime.Run(async time =>
    {
        (DuplexLink near, DuplexLink far) = DuplexLink.CreatePair("bare");
        await using var host = SimulatedPrinterHost.Start(far, ScenarioFile.Load("good"), time);
        await body(near, host, time);
    });

    private static async Task AnswerAsync(DuplexLink link, string answer, TimeProvider time)
    {
        var buffer = new byte[1024];
        try
        {
            while (true)
            {
                int count = await link.ReadAsync(buffer, default);
                if (Encoding.ASCII.GetString(buffer, 0, count).Contains("M105", StringComparison.Ordinal))
                {
                    await Task.Delay(TimeSpan.FromMilliseconds(5), time);
                    await SayAsync(link, answer);
                }
            }
        }
        catch (LinkLostException)
        {
            // The other side is done.
        }
    }

    private static ValueTask SayAsync(DuplexLink link, string text) => link.WriteAsync(Encoding.ASCII.GetBytes(text), default);
}
