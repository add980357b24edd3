using ProbeRunner.SimulatedPrinter.Scenarios;

namespace ProbeRunner.SimulatedPrinter.Tests.Wire;

public class CommandTests
{
    [Fact]
    public void It_says_what_it_is_and_what_it_can() =>
        Bench.Run(Bench.Good(controller => controller with { WritesMesh = false }), async bench =>
        {
            var answer = await bench.SendAsync("M115");
            Assert.StartsWith("FIRMWARE_NAME:Bramblewick", answer[0], StringComparison.Ordinal);
            Assert.Contains("CAN:SETTINGS_STORE:1", answer);
            Assert.Contains("CAN:MESH_WRITE:0", answer);
        });

    [Fact]
    public void Homing_tells_that_it_is_busy_and_is_acknowledged_when_done() => Bench.Run(Bench.Good(), async bench =>
    {
        var answer = await bench.SendAsync("G28");
        Assert.Contains("echo:busy: working", answer);
        Assert.Equal("ok", answer[^1]);
        Assert.True(bench.Time.Elapsed > TimeSpan.FromSeconds(5));
        Assert.Equal((true, true, true), bench.Truth.Homed);
        Assert.Equal(1, bench.Truth.DatumEpoch);
    });

    [Fact]
    public void A_move_is_acknowledged_when_queued_and_the_wait_when_it_has_ended() => Bench.Run(Bench.Good(), async bench =>
    {
        await bench.HomeAsync();
        var began = bench.Time.Elapsed;
        Assert.Equal(["ok"], await bench.SendAsync("G1 X10 F600"));
        Assert.Equal(began, bench.Time.Elapsed);
        await bench.SendAsync("M400");
        Assert.True(bench.Time.Elapsed - began > TimeSpan.FromSeconds(10));
        Assert.Equal(10, bench.Truth.Nozzle.X, 6);
    });

    [Fact]
    public void When_the_queue_is_full_the_acknowledgement_waits_for_room() =>
        Bench.Run(Bench.Good(controller => controller with { QueuedMoves = 2, BusySeconds = 0 }), async bench =>
        {
            await bench.HomeAsync();
            var began = bench.Time.Elapsed;
            await bench.SendAsync("G1 X10 F600");
            await bench.SendAsync("G1 X20");
            Assert.Equal(began, bench.Time.Elapsed);
            await bench.SendAsync("G1 X30");
            Assert.True(bench.Time.Elapsed > began);
        });

    [Fact]
    public void A_position_report_has_the_commanded_place_first_and_steps_after_it() => Bench.Run(Bench.Good(), async bench =>
    {
        await bench.HomeAsync();
        await bench.SendAsync("G1 X110 Y110 Z5 F6000");
        await bench.SendAsync("M400");
        var report = (await bench.SendAsync("M114"))[0];
        Assert.Matches(@"^X:110\.000 Y:110\.000 Z:5\.000 E:0\.00 Steps X:8800 Y:8800 Z:2000$", report);
    });

    [Fact]
    public void Relative_moves_add_to_the_place() => Bench.Run(Bench.Good(), async bench =>
    {
        await bench.HomeAsync();
        await bench.SendAsync("G1 X100 Y100 Z10 F6000");
        await bench.SendAsync("G91");
        await bench.SendAsync("G1 X-5 Z2");
        await bench.SendAsync("M400");
        Assert.Contains("X:95.000 Y:100.000 Z:12.000", (await bench.SendAsync("M114"))[0], StringComparison.Ordinal);
    });

    [Theory]
    [InlineData(TouchReportStyle.Labelled, @"X: 100\.000 Y: 90\.000 Z: -?\d+\.\d{3}$")]
    [InlineData(TouchReportStyle.Positional, @"100\.000,90\.000 .*z=-?\d+\.\d{3}$")]
    public void A_touch_is_reported_labelled_or_by_position(TouchReportStyle style, string pattern) =>
        Bench.Run(Bench.Good(controller => controller with { TouchReport = style }), async bench =>
        {
            await bench.HomeAsync();
            Assert.Matches(pattern, (await bench.SendAsync("G30 X100 Y90"))[^2]);
        });

    [Fact]
    public void An_offset_included_report_moves_with_the_stored_offset_and_a_nozzle_height_does_not()
    {
        foreach (var included in new[] { true, false })
        {
            Bench.Run(Bench.Good(controller => controller with { TouchIncludesOffset = included }), async bench =>
            {
                await bench.HomeAsync();
                var before = await bench.TouchAsync(120, 120);
                await bench.SendAsync("M851 Z-1.0");
                var after = await bench.TouchAsync(120, 120);
                Assert.Equal(included ? 0.5 : 0, after - before, 0.04);
            });
        }
    }

    [Fact]
    public void A_touch_that_cannot_be_says_why_and_is_acknowledged() => Bench.Run(Bench.Good(), async bench =>
    {
        Assert.Contains("home", (await bench.SendAsync("G30 X100 Y100"))[0], StringComparison.Ordinal);
        await bench.HomeAsync();
        Assert.Contains("probe cannot reach", (await bench.SendAsync("G30 X239 Y100"))[0], StringComparison.Ordinal);
    });

    [Fact]
    public void Touches_after_an_explicit_extension_leave_the_pin_out() => Bench.Run(Bench.Good(), async bench =>
    {
        await bench.HomeAsync();
        await bench.SendAsync("M401");
        await bench.TouchAsync(100, 100);
        Assert.True(bench.Truth.PinExtended);
        await bench.SendAsync("M402");
        await bench.TouchAsync(100, 100);
        Assert.False(bench.Truth.PinExtended);
    });

    [Fact]
    public void The_pin_obeys_simple_words_servo_angles_or_both()
    {
        foreach (var (style, word, works) in new[]
        {
            (ProbeCommandStyle.Simple, "M401", true), (ProbeCommandStyle.Simple, "M280 P0 S10", false),
            (ProbeCommandStyle.Servo, "M401", false), (ProbeCommandStyle.Servo, "M280 P0 S10", true),
            (ProbeCommandStyle.Both, "M401", true), (ProbeCommandStyle.Both, "M280 P0 S10", true),
        })
        {
            Bench.Run(Bench.Good(controller => controller with { ProbeCommands = style }), async bench =>
            {
                await bench.SendAsync(word);
                Assert.Equal(works, bench.Truth.PinExtended);
            });
        }
    }

    [Fact]
    public void End_switches_and_probe_are_reported_one_a_line() => Bench.Run(Bench.Good(), async bench =>
    {
        await bench.HomeAsync();
        await bench.SendAsync("M401");
        Assert.Contains("z_probe: open", await bench.SendAsync("M119"));
        bench.Printer.Ask("finger on");
        Assert.Contains("z_probe: TRIGGERED", await bench.SendAsync("M119"));
        bench.Printer.Ask("finger off");
        Assert.Contains("z_probe: open", await bench.SendAsync("M119"));
    });

    [Fact]
    public void The_offset_is_set_reported_stored_and_survives_a_power_cut_only_when_stored() => Bench.Run(Bench.Good(), async bench =>
    {
        Assert.Equal("echo:Probe offset X-38.000 Y-9.000 Z-2.150", (await bench.SendAsync("M851 Z-2.15"))[0]);
        await bench.SendAsync("M500");
        await bench.SendAsync("M851 Z-9");
        bench.Printer.PowerCycle();
        await bench.ReadToAsync(line => line == "echo:settings loaded");
        Assert.Equal("echo:Probe offset X-38.000 Y-9.000 Z-2.150", (await bench.SendAsync("M851"))[0]);
    });

    [Fact]
    public void Mesh_nodes_are_written_read_back_row_by_row_and_switched() => Bench.Run(Bench.Good(), async bench =>
    {
        Assert.Contains("error: there is no mesh", await bench.SendAsync("M420 S1"));
        await bench.SendAsync("M421 I1 J0 Z0.125");
        var report = await bench.SendAsync("M420 S1 V");
        Assert.Equal("Mesh of 5 x 5 nodes, X:20.0 Y:20.0 to X:200.0 Y:220.0", report[0]);
        Assert.Equal(" +0.0000 +0.1250 +0.0000 +0.0000 +0.0000", report[1]);
        Assert.Equal("echo:mesh correction on", report[^2]);
        await bench.HomeAsync();
        Assert.Equal("echo:mesh correction off", (await bench.SendAsync("M420"))[0]);
    });

    [Fact]
    public void What_a_controller_cannot_do_is_an_unknown_command()
    {
        foreach (var (command, change) in new (string, Func<ControllerScenario, ControllerScenario>)[]
        {
            ("M421 I0 J0 Z0.1", controller => controller with { WritesMesh = false }),
            ("M420 V", controller => controller with { HasMesh = false }),
            ("M500", controller => controller with { StoresSettings = false }),
            ("M503", controller => controller with { ReportsSettings = false }),
        })
        {
            Bench.Run(Bench.Good(change), async bench =>
                Assert.Contains("unknown command", (await bench.SendAsync(command))[0], StringComparison.Ordinal));
        }
    }

    [Fact]
    public void The_settings_report_lists_the_commands_that_would_set_it_all() => Bench.Run(Bench.Good(), async bench =>
    {
        var report = await bench.SendAsync("M503");
        Assert.Contains("echo:M92 X80.00 Y80.00 Z400.00 E93.00", report);
        Assert.Contains("echo:M851 X-38.000 Y-9.000 Z-1.500", report);
        Assert.Contains("echo:M84 S600", report);
        Assert.Contains("echo:M421 I4 J4 Z0.0000", report);
    });

    [Fact]
    public void Temperatures_come_with_the_ok_or_before_it()
    {
        Bench.Run(Bench.Good(), async bench => Assert.Equal(["ok T:21.0 /0.0 B:21.0 /0.0 @:0 B@:0"], await bench.SendAsync("M105")));
        Bench.Run(Bench.Good(controller => controller with { TemperaturesOnOk = false }), async bench =>
            Assert.Equal(["T:21.0 /0.0 B:21.0 /0.0 @:0 B@:0", "ok"], await bench.SendAsync("M105")));
    }

    [Fact]
    public void Heaters_warm_up_while_they_are_polled_and_refuse_too_much() => Bench.Run(Bench.Good(), async bench =>
    {
        await bench.SendAsync("M140 S60");
        await Task.Delay(TimeSpan.FromSeconds(20), bench.Time);
        Assert.Contains("B:31.0 /60.0", (await bench.SendAsync("M105"))[0], StringComparison.Ordinal);
        Assert.Contains("out of range", (await bench.SendAsync("M104 S900"))[0], StringComparison.Ordinal);
        Assert.Equal((0, 60), bench.Truth.HeaterTargets);
    });

    [Fact]
    public void Temperatures_are_reported_unasked_at_the_interval_set() => Bench.Run(Bench.Good(), async bench =>
    {
        await bench.SendAsync("M155 S2");
        await bench.ReadLineAsync();
        var first = bench.Time.Elapsed;
        Assert.Contains("T:21.0 /0.0", await bench.ReadLineAsync(), StringComparison.Ordinal);
        Assert.Equal(TimeSpan.FromSeconds(2), bench.Time.Elapsed - first);
    });

    [Fact]
    public void Heaters_go_off_after_a_silence_where_the_controller_can_do_that() =>
        Bench.Run(Bench.Good(controller => controller with { SilenceHeatersOffSeconds = 30 }), async bench =>
        {
            await bench.SendAsync("M104 S100");
            await Task.Delay(TimeSpan.FromSeconds(31), bench.Time);
            Assert.Contains("/0.0", (await bench.SendAsync("M105"))[0], StringComparison.Ordinal);
            Assert.Equal((0, 0), bench.Truth.HeaterTargets);
        });

    [Fact]
    public void Heaters_go_off_after_a_silence_that_nothing_ever_ends() =>
        Bench.Run(Bench.Good(controller => controller with { SilenceHeatersOffSeconds = 30 }), async bench =>
        {
            await bench.SendAsync("M104 S100");
            await Task.Delay(TimeSpan.FromSeconds(29), bench.Time);
            Assert.Equal("nozzle", bench.Printer.Ask("look heaters"));
            await Task.Delay(TimeSpan.FromSeconds(2), bench.Time);
            Assert.Equal("off", bench.Printer.Ask("look heaters"));
        });

    [Fact]
    public void Released_motors_forget_their_place_when_told_and_after_standing_idle() => Bench.Run(Bench.Good(), async bench =>
    {
        await bench.HomeAsync();
        await bench.SendAsync("M84");
        Assert.Equal((false, false, false), bench.Truth.Homed);
        await bench.HomeAsync();
        await bench.SendAsync("M84 S100");
        await Task.Delay(TimeSpan.FromSeconds(101), bench.Time);
        await bench.SendAsync("M114");
        Assert.Equal((false, false, false), bench.Truth.Homed);
    });

    [Fact]
    public void Soft_limits_hold_moves_back_until_switched_off() => Bench.Run(Bench.Good(), async bench =>
    {
        await bench.HomeAsync();
        Assert.Contains("soft limits on", (await bench.SendAsync("M211"))[0], StringComparison.Ordinal);
        await bench.SendAsync("G1 Z-0.5 F300");
        Assert.Contains("Z:0.000", (await bench.SendAsync("M114"))[0], StringComparison.Ordinal);
        await bench.SendAsync("M211 S0");
        await bench.SendAsync("G1 Z-0.5 F300");
        Assert.Contains("Z:-0.500", (await bench.SendAsync("M114"))[0], StringComparison.Ordinal);
    });

    [Fact]
    public void A_dwell_takes_its_time_and_is_acknowledged_then() => Bench.Run(Bench.Good(), async bench =>
    {
        await bench.SendAsync("G4 P1500");
        Assert.Equal(1.5, bench.Time.Elapsed.TotalSeconds, 6);
        await bench.SendAsync("G4 S60");
        Assert.Equal(61.5, bench.Time.Elapsed.TotalSeconds, 6);
    });

    [Fact]
    public void A_halt_line_stops_a_motion_in_the_middle_and_everything_is_ignored_until_a_reset() => Bench.Run(Bench.Good(), async bench =>
    {
        await bench.HomeAsync();
        await bench.SendAsync("M104 S100");
        await bench.SendAsync("G1 X10 F600");
        await Task.Delay(TimeSpan.FromSeconds(2), bench.Time);
        await bench.WriteAsync("M112\n");
        Assert.Contains("halt", await bench.ReadLineAsync(), StringComparison.Ordinal);
        Assert.True(bench.Truth.IsHalted);
        Assert.Equal((0, 0), bench.Truth.HeaterTargets);
        Assert.InRange(bench.Truth.Nozzle.X, 11, 239);
        await bench.WriteAsync("M114\n");
        bench.Printer.PowerCycle();
        Assert.Equal("start", await bench.ReadLineAsync());
        Assert.False(bench.Truth.IsHalted);
    });

    [Fact]
    public void A_busy_controller_may_see_the_halt_line_only_afterwards() =>
        Bench.Run(Bench.Good(controller => controller with { HaltSeenWhenBusy = false }), async bench =>
        {
            await bench.WriteAsync("G28\nM112\n");
            var lines = await bench.ReadToAsync(line => line.Contains("halt", StringComparison.Ordinal));
            Assert.Contains("ok", lines);
            Assert.True(bench.Time.Elapsed > TimeSpan.FromSeconds(5));
        });

    [Fact]
    public void The_controllers_own_probing_fills_the_mesh_and_switches_it_on() => Bench.Run(Bench.Good(), async bench =>
    {
        await bench.HomeAsync();
        await bench.SendAsync("G29");
        Assert.True(bench.Truth.MeshCorrectionOn);
        var expected = bench.Truth.BedHeightAt(200, 220) - bench.Truth.BedHeightAt(120, 120);
        Assert.Equal(expected, bench.Truth.Mesh[24], 0.05);
    });

    [Fact]
    public void A_nudge_moves_the_nozzle_and_not_the_place_reported() => Bench.Run(Bench.Good(), async bench =>
    {
        await bench.HomeAsync();
        await bench.SendAsync("G1 X120 Y120 Z5 F6000");
        await bench.SendAsync("M400");
        var gap = bench.Truth.GapMm;
        await bench.SendAsync("M290 Z-0.05");
        Assert.Equal(-0.05, bench.Truth.GapMm - gap, 9);
        Assert.Contains("Z:5.000", (await bench.SendAsync("M114"))[0], StringComparison.Ordinal);
    });

    [Fact]
    public void Opening_the_link_may_reset_the_controller_and_its_banner_follows() =>
        Bench.Run(Bench.Good(controller => controller with { ResetsOnOpen = true }), async bench =>
        {
            await bench.WriteAsync("M105\n");
            Assert.Equal("start", await bench.ReadLineAsync());
            Assert.Equal(TimeSpan.FromSeconds(1.5), bench.Time.Elapsed);
        });

    [Fact]
    public void Unasked_remarks_and_waits_come_when_the_controller_is_of_that_kind() =>
        Bench.Run(Bench.Good(controller => controller with { RemarkSeconds = 3, SaysWait = true }), async bench =>
        {
            var lines = await bench.ReadToAsync(line => line.StartsWith("//", StringComparison.Ordinal));
            Assert.Contains("wait", lines);
            Assert.Contains(lines, line => line.StartsWith("echo:", StringComparison.Ordinal));
        });
}
