using ProbeRunner.SimulatedPrinter.Faults;
using ProbeRunner.SimulatedPrinter.Physics;
using ProbeRunner.Transport.Links;

namespace ProbeRunner.SimulatedPrinter.Tests.Faults;

public class FaultTests
{
    [Fact]
    public void A_split_reply_arrives_in_two_pieces_and_whole_in_the_end() => Bench.Run(
        Bench.Good(),
        async bench =>
        {
            for (var time = 0; time < 20; time++)
            {
                Assert.Equal(["ok T:21.0 /0.0 B:21.0 /0.0 @:0 B@:0"], await bench.SendAsync("M105"));
            }

            Assert.Equal(0.14, bench.Time.Elapsed.TotalSeconds, 6);
        },
        new FaultPlan { SplitFromController = 1 });

    [Fact]
    public void A_doubled_reply_comes_twice() => Bench.Run(
        Bench.Good(),
        async bench =>
        {
            await bench.SendAsync("G90");
            Assert.Equal("ok", await bench.ReadLineAsync());
        },
        new FaultPlan { DoubledFromController = 1 });

    [Fact]
    public void A_late_reply_comes_later_by_what_the_plan_says() => Bench.Run(
        Bench.Good(),
        async bench =>
        {
            await bench.SendAsync("G90");
            Assert.Equal(TimeSpan.FromSeconds(5), bench.Time.Elapsed);
        },
        new FaultPlan { LateFromController = 1, LateSeconds = 5 });

    [Fact]
    public void Shares_are_kept_over_many_lines_and_the_same_lines_are_hit_every_time()
    {
        var counts = new[] { 0, 0 };
        foreach (var run in new[] { 0, 1 })
        {
            Bench.Run(
                Bench.Good(),
                async bench =>
                {
                    for (var line = 0; line < 1000; line++)
                    {
                        await bench.WriteAsync("M114\n");
                    }

                    await Task.Delay(TimeSpan.FromSeconds(1), bench.Time);
                    await bench.WriteAsync("M115\n");
                    var received = await bench.ReadToAsync(line => line.StartsWith("CAN:", StringComparison.Ordinal));
                    counts[run] = received.Count(line => line == "ok");
                },
                new FaultPlan { LostFromController = 0.2 });
        }

        Assert.Equal(counts[0], counts[1]);
        Assert.InRange(counts[0], 740, 860);
    }

    [Fact]
    public void A_reset_in_the_middle_of_a_move_leaves_the_nozzle_between_and_the_axes_unknown() => Bench.Run(
        Bench.Good(),
        async bench =>
        {
            await bench.WriteAsync("G28 X Y\n");
            var lines = await bench.ReadToAsync(line => line == "echo:settings loaded");
            Assert.Contains("start", lines);
            Assert.DoesNotContain("ok", lines);
            Assert.Equal((false, false, false), bench.Truth.Homed);
            Assert.True(bench.Truth.Nozzle.X > 0);
        },
        new FaultPlan { ResetAtMotion = 2 });

    [Fact]
    public void The_banner_of_a_reset_can_be_lost() => Bench.Run(
        Bench.Good(),
        async bench =>
        {
            await bench.WriteAsync("G28 X Y\n");
            await Task.Delay(TimeSpan.FromMinutes(1), bench.Time);
            Assert.DoesNotContain("start", await bench.SendAsync("M105"));
            Assert.Equal((false, false, false), bench.Truth.Homed);
        },
        new FaultPlan { ResetAtMotion = 2, LosesBanner = true });

    [Fact]
    public void A_pulled_cable_is_noticed_at_our_end_and_a_new_one_reaches_the_same_machine() => Bench.Run(
        Bench.Good(),
        async bench =>
        {
            await bench.SendAsync("G28 X Y");
            await bench.WriteAsync("G28 Z\n");
            await Assert.ThrowsAsync<LinkLostException>(() => bench.ReadToAsync(_ => false));
            Assert.False(bench.Printer.IsPlugged);
            await Task.Delay(TimeSpan.FromMinutes(1), bench.Time);
            // The controller went on by itself.
            Assert.Equal((true, true, true), bench.Truth.Homed);
            bench.PlugAgain();
            Assert.Contains("X:", (await bench.SendAsync("M114"))[0], StringComparison.Ordinal);
        },
        new FaultPlan { PullCableAtMotion = 6 });

    [Fact]
    public void A_cable_can_be_pulled_at_a_line() => Bench.Run(
        Bench.Good(),
        async bench =>
        {
            await bench.SendAsync("G90");
            await bench.WriteAsync("G91\n");
            await Assert.ThrowsAsync<LinkLostException>(() => bench.ReadToAsync(_ => false));
        },
        new FaultPlan { PullCableAtLine = 2 });

    [Fact]
    public void A_silent_controller_says_nothing_for_a_while_and_then_again() => Bench.Run(
        Bench.Good(),
        async bench =>
        {
            await bench.WriteAsync("G90\n");
            await Task.Delay(TimeSpan.FromSeconds(60), bench.Time);
            Assert.Equal(["ok"], await bench.SendAsync("G91"));
            Assert.True(bench.Time.Elapsed >= TimeSpan.FromSeconds(60));
        },
        new FaultPlan { SilentFromLine = 1, SilentSeconds = 50 });

    [Theory]
    [InlineData(ProbeDefect.NeverTriggers, "did not trigger")]
    [InlineData(ProbeDefect.StuckTriggered, "triggered before")]
    [InlineData(ProbeDefect.StaysIn, "failed to extend")]
    public void A_probe_with_a_defect_fails_its_touch_in_its_own_way_and_scratches_nothing(ProbeDefect defect, string expected) => Bench.Run(
        Bench.Good(),
        async bench =>
        {
            await bench.HomeAsync();
            await bench.TouchAsync(100, 100);
            var answer = await bench.SendAsync("G30 X100 Y100");
            Assert.Contains(answer, line => line.Contains(expected, StringComparison.Ordinal));
            Assert.Empty(bench.Truth.Scratches);
        },
        new FaultPlan { DefectFromTouch = 4, Defect = defect });

    [Fact]
    public void A_probe_that_never_triggers_while_homing_drives_the_nozzle_into_the_bed_and_halts_the_controller() => Bench.Run(
        Bench.Good(),
        async bench =>
        {
            await bench.SendAsync("G28 X Y");
            await bench.WriteAsync("G28 Z\n");
            await bench.ReadToAsync(line => line.Contains("halt", StringComparison.Ordinal));
            Assert.True(bench.Truth.IsHalted);
            Assert.NotEmpty(bench.Truth.Scratches);
        },
        new FaultPlan { DefectFromTouch = 1 });
}
