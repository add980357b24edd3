using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Guard;
using ProbeRunner.Machine.Heat;
using ProbeRunner.Machine.Printers;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Transport.Commands;

namespace ProbeRunner.Machine.Tests.Printers;

public sealed class PrinterTests
{
    private static readonly BedPoint Middle = new(120, 120);

    private static async Task<(Printer Printer, FakeController Controller)> ConnectedAsync(PrinterOptions? options = null)
    {
        var controller = new FakeController();
        Printer printer = await Printer.ConnectAsync(controller, Shipped.LineAck, Shipped.Wren, TimeProvider.System, options);
        return (printer, controller);
    }

    private static async Task<(Printer Printer, FakeController Controller)> HomedAsync(PrinterOptions? options = null)
    {
        (Printer printer, FakeController controller) = await ConnectedAsync(options);
        await printer.HomeAsync(Axes.All, default);
        controller.Sent.Clear();
        return (printer, controller);
    }

    [Fact]
    public async Task Connecting_moves_nothing()
    {
        (Printer printer, FakeController controller) = await ConnectedAsync();

        Assert.Equal(1, controller.Sessions);
        Assert.DoesNotContain(controller.Sent, line => line.StartsWith('G'));
        Assert.Equal(Axes.None, printer.Now.Homed);
    }

    [Fact]
    public async Task A_reading_is_the_nozzle_height_at_the_trigger_with_the_stored_offset_taken_out()
    {
        // Reported 0.123 includes the stored -2; the nozzle stood at 2.123.
        (Printer printer, FakeController controller) = await HomedAsync();
        controller.TriggerZ = (_, _) => 2.123;

        Reading reading = await printer.TouchAsync(Middle, default);

        Assert.Equal(2.123, reading.Z, 6);
        Assert.Equal(Middle, reading.Place);
        Assert.Equal(1, reading.DatumEpoch);
        Assert.False(reading.Suspect);
    }

    [Fact]
    public async Task Nothing_is_measured_before_the_controller_says_that_motion_has_finished()
    {
        (Printer printer, FakeController controller) = await HomedAsync();
        await printer.MoveNozzleAsync(Middle, default);

        int move = controller.Sent.FindIndex(line => line.StartsWith("G1 X", StringComparison.Ordinal));
        Assert.Equal("M400", controller.Sent[move + 1]);
        Assert.Equal("M114", controller.Sent[move + 2]);
    }

    [Fact]
    public async Task Homing_leaves_mesh_correction_off_and_begins_an_epoch()
    {
        (Printer printer, FakeController controller) = await ConnectedAsync();

        await printer.HomeAsync(Axes.XY, default);
        Assert.Equal(0, printer.Now.DatumEpoch);
        await printer.HomeAsync(Axes.Z, default);

        Assert.False(controller.MeshOn);
        Assert.False(printer.Now.MeshCorrectionOn);
        Assert.Equal(1, printer.Now.DatumEpoch);
        Assert.Equal(Axes.All, printer.Now.Homed);
    }

    [Fact]
    public async Task A_touch_whose_report_is_damaged_is_taken_again_and_flagged()
    {
        (Printer printer, FakeController controller) = await HomedAsync();
        int touches = 0;
        controller.Instead = text => text.StartsWith("G30", StringComparison.Ordinal) && touches++ == 0 ? ["Bed touched at X: 120.00 Y: 120.00 Z: 0.0x0"] : null;

        Reading reading = await printer.TouchAsync(Middle, default);

        Assert.Equal(2.0, reading.Z, 6);
        Assert.True(reading.Suspect);
    }

    [Fact]
    public async Task A_report_of_another_place_is_never_taken_for_this_one()
    {
        (Printer printer, FakeController controller) = await HomedAsync();
        int touches = 0;
        controller.Instead = text => text.StartsWith("G30", StringComparison.Ordinal) && touches++ == 0 ? ["Bed touched at X: 100.00 Y: 120.00 Z: 0.400"] : null;

        Assert.Equal(2.0, (await printer.TouchAsync(Middle, default)).Z, 6);
        Assert.Equal(3, touches);
    }

    [Fact]
    public async Task A_surprising_reading_is_believed_only_when_a_second_touch_bears_it_out()
    {
        (Printer printer, FakeController controller) = await HomedAsync();
        int touches = 0;
        controller.Instead = text => text.StartsWith("G30", StringComparison.Ordinal) && ++touches == 6 ? ["Bed touched at X: 120.00 Y: 120.00 Z: 0.900"] : null;
        var readings = new List<Reading>();
        for (int touch = 0; touch < 6; touch++)
        {
            readings.Add(await printer.TouchAsync(Middle, default));
        }

        Assert.All(readings, reading => Assert.Equal(2.0, reading.Z, 6));
        Assert.True(readings[5].Suspect);
        Assert.All(readings.Take(5), reading => Assert.False(reading.Suspect));
        Assert.Equal(8, touches);
    }

    [Fact]
    public async Task A_true_step_in_the_bed_is_believed_as_first_read()
    {
        (Printer printer, FakeController controller) = await HomedAsync();
        foreach (double x in new[] { 60.0, 80, 100, 120 })
        {
            await printer.TouchAsync(new BedPoint(x, 100), default);
        }

        double height = 2.7;
        controller.TriggerZ = (_, _) => height += 0.01;
        Reading reading = await printer.TouchAsync(new BedPoint(140, 100), default);

        Assert.Equal(2.71, reading.Z, 6);
        Assert.True(reading.Suspect);
    }

    [Fact]
    public async Task Every_reading_is_touched_twice_when_that_is_asked_for()
    {
        (Printer printer, FakeController controller) = await HomedAsync(new PrinterOptions { ConfirmEveryReading = true });
        await printer.TouchAsync(Middle, default);

        Assert.Equal(2, controller.Sent.Count(line => line.StartsWith("G30", StringComparison.Ordinal)));
    }

    [Fact]
    public async Task A_probe_that_never_triggers_ends_in_a_lift_and_a_plain_failure()
    {
        (Printer printer, FakeController controller) = await HomedAsync();
        controller.Instead = text =>
        {
            if (!text.StartsWith("G30", StringComparison.Ordinal))
            {
                return null;
            }

            controller.Z = 1.0;
            return ["error: the probe did not trigger"];
        };

        TouchFailedException failure = await Assert.ThrowsAsync<TouchFailedException>(() => printer.TouchAsync(Middle, default));

        Assert.Equal("error: the probe did not trigger", failure.Line);
        Assert.True(controller.Z >= printer.Guard.ClearanceZ);
        Assert.Contains("M402", controller.Sent);
    }

    [Fact]
    public async Task A_nozzle_that_is_not_where_it_was_sent_is_a_fault()
    {
        (Printer printer, FakeController controller) = await HomedAsync();
        controller.Instead = text => text == "M114" ? ["X:33.00 Y:44.00 Z:10.00 E:0.00"] : null;

        await Assert.ThrowsAsync<PositionDiffersException>(() => printer.MoveNozzleAsync(Middle, default));
    }

    [Fact]
    public async Task A_single_damaged_position_report_is_asked_again()
    {
        (Printer printer, FakeController controller) = await HomedAsync();
        int asked = 0;
        controller.Instead = text => text == "M114" && asked++ == 0 ? ["X:170.00 Y:120.00 Z:7.00 E:0.00"] : null;

        await printer.MoveNozzleAsync(Middle, default);

        Assert.Equal(120, printer.Now.Position!.Value.X);
    }

    [Fact]
    public async Task After_a_reset_nothing_moves_but_a_lift_and_homing()
    {
        (Printer printer, FakeController controller) = await HomedAsync();
        controller.Reset();

        Assert.Equal(Axes.None, printer.Now.Homed);
        await Assert.ThrowsAsync<ControllerResetException>(() => printer.MoveNozzleAsync(Middle, default));
        await Assert.ThrowsAsync<MotionRefusedException>(() => printer.MoveNozzleAsync(Middle, default));
        await Assert.ThrowsAsync<MotionRefusedException>(() => printer.TouchAsync(Middle, default));
        Assert.DoesNotContain(controller.Sent, line => line.StartsWith("G1", StringComparison.Ordinal) || line.StartsWith("G30", StringComparison.Ordinal));
        await printer.LiftUnhomedAsync(5, default);
        await printer.HomeAsync(Axes.All, default);
        await printer.TouchAsync(Middle, default);
        Assert.Equal(2, printer.Now.DatumEpoch);
    }

    [Fact]
    public async Task Heaters_off_gets_through_after_a_reset_that_nobody_was_told_of()
    {
        (Printer printer, FakeController controller) = await HomedAsync();
        await printer.SetHeaterTargetsAsync(140, 60, default);
        controller.Reset();

        Assert.True((await printer.HeatersOffAsync(default)).HeatersOff);
    }

    [Fact]
    public async Task Heaters_off_waits_for_no_command_that_was_given_up()
    {
        (Printer printer, FakeController controller) = await HomedAsync();
        controller.Instead = text => text.StartsWith("G30", StringComparison.Ordinal) ? throw new OperationCanceledException() : null;
        await Assert.ThrowsAsync<OperationCanceledException>(() => printer.TouchAsync(Middle, default));
        controller.Sent.Clear();

        await printer.HeatersOffAsync(default);

        Assert.Equal(["past everything: M104 S0", "past everything: M140 S0", "M104 S0", "M140 S0", "M105"], controller.Sent);
    }

    [Theory]
    [InlineData(true, 1)]
    [InlineData(false, 2)]
    public async Task A_move_that_may_have_been_carried_out_is_decided_by_the_position(bool carriedOut, int sent)
    {
        (Printer printer, FakeController controller) = await HomedAsync();
        bool once = true;
        controller.Instead = text =>
        {
            if (text.StartsWith("G1 X", StringComparison.Ordinal) && once)
            {
                once = false;
                (controller.X, controller.Y) = carriedOut ? (120, 120) : (controller.X, controller.Y);
                throw new CommandUncertainException(text, CommandKind.Motion);
            }

            return null;
        };

        await printer.MoveNozzleAsync(Middle, default);

        Assert.Equal(120, controller.X);
        Assert.Equal(sent, controller.Sent.Count(line => line.StartsWith("G1 X", StringComparison.Ordinal)));
    }

    [Fact]
    public async Task A_touch_whose_fate_is_open_is_taken_again_after_the_position_was_asked()
    {
        (Printer printer, FakeController controller) = await HomedAsync();
        bool once = true;
        controller.Instead = text =>
        {
            if (text.StartsWith("G30", StringComparison.Ordinal) && once)
            {
                once = false;
                throw new CommandUncertainException(text, CommandKind.LongMotion);
            }

            return null;
        };

        Assert.True((await printer.TouchAsync(Middle, default)).Suspect);
        int first = controller.Sent.FindIndex(line => line.StartsWith("G30", StringComparison.Ordinal));
        int second = controller.Sent.FindIndex(first + 1, line => line.StartsWith("G30", StringComparison.Ordinal));
        Assert.Contains("M114", controller.Sent.Take(second).Skip(first));
    }

    [Fact]
    public async Task What_was_found_is_known_after_connecting()
    {
        (Printer printer, _) = await ConnectedAsync();

        Assert.True(printer.Now.MeshCorrectionOn);
        Assert.True(printer.Now.SoftLimitsOn);
    }

    [Fact]
    public async Task A_target_above_the_cap_is_never_sent()
    {
        (Printer printer, FakeController controller) = await ConnectedAsync();
        controller.Sent.Clear();

        await Assert.ThrowsAsync<HeatRefusedException>(() => printer.SetHeaterTargetsAsync(261, null, default));
        await Assert.ThrowsAsync<HeatRefusedException>(() => printer.SetHeaterTargetsAsync(200, 101, default));
        await Assert.ThrowsAsync<HeatRefusedException>(() => printer.SetHeaterTargetsAsync(double.NaN, null, default));
        Assert.Empty(controller.Sent);
    }

    [Fact]
    public async Task A_heater_that_stays_on_is_reported()
    {
        (Printer printer, FakeController controller) = await ConnectedAsync();
        controller.Instead = text => text == "M105" ? ["T:200.0 /200.0 B:21.0 /0.0 @:0 B@:0"] : null;

        await Assert.ThrowsAsync<ReportsDisagreeException>(() => printer.HeatersOffAsync(default));
    }

    [Fact]
    public async Task The_offset_is_believed_when_two_reports_agree()
    {
        (Printer printer, FakeController controller) = await ConnectedAsync();
        int asked = 0;
        controller.Instead = text => text == "M851" ? asked++ switch
        {
            0 => ["Probe offset X-38.00 Y-9.00 Z-7.00"],
            1 => ["Probe offset X-38.00 Y-9.0x Z-2.00"],
            _ => null,
        } : null;

        Assert.Equal(new ProbeOffset(-38, -9, -2), await printer.ReadProbeOffsetAsync(default));
    }

    [Fact]
    public async Task Writing_the_offset_lifts_first_reads_back_and_ends_the_epoch()
    {
        (Printer printer, FakeController controller) = await HomedAsync();
        ProbeOffset found = await printer.WriteProbeOffsetAsync(new ProbeOffset(-38, -9, -2.15), default);

        Assert.Equal(-2.15, found.Z, 6);
        Assert.Equal(Axes.XY, printer.Now.Homed);
        await Assert.ThrowsAsync<MotionRefusedException>(() => printer.TouchAsync(Middle, default));
        controller.Instead = text => text.StartsWith("M851 X", StringComparison.Ordinal) ? [] : null;
        await Assert.ThrowsAsync<ReportsDisagreeException>(() => printer.WriteProbeOffsetAsync(new ProbeOffset(-38, -9, -2.5), default));
    }

    [Fact]
    public async Task A_mesh_is_written_node_by_node_and_read_back()
    {
        (Printer printer, FakeController controller) = await HomedAsync();
        ImmutableArray<double> heights = [.. Enumerable.Range(0, 25).Select(node => (node - 12) * 0.0123)];
        var mesh = new MeshNodes(Shipped.Wren.Mesh.Area, 5, 5, heights);

        MeshNodes found = await printer.WriteMeshAsync(mesh, default);

        Assert.All(found.Heights.Zip(heights), pair => Assert.Equal(pair.Second, pair.First, 0.0011));
        controller.Instead = text => text.StartsWith("M421 I3 J2", StringComparison.Ordinal) ? [] : null;
        var other = mesh with { Heights = [.. heights.Select(height => height + 0.1)] };
        ReportsDisagreeException failure = await Assert.ThrowsAsync<ReportsDisagreeException>(() => printer.WriteMeshAsync(other, default));
        Assert.Contains("column 4, row 3", failure.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_mesh_in_force_counts_in_what_is_allowed()
    {
        (Printer printer, FakeController controller) = await HomedAsync();
        controller.Mesh[12] = -0.4;

        Assert.True(await printer.SetMeshCorrectionAsync(on: true, default));

        Assert.Equal(-0.4, printer.Guard.State.Mesh!.Lowest, 6);
        await Assert.ThrowsAsync<MotionRefusedException>(() => printer.TouchAsync(Middle, default));
    }

    [Fact]
    public async Task A_controller_that_cannot_write_nodes_is_found_out_by_trying()
    {
        (Printer printer, FakeController controller) = await HomedAsync();
        controller.Instead = text => text.StartsWith("M421", StringComparison.Ordinal) ? throw new CommandUnknownException(text, "unknown command") : null;

        await Assert.ThrowsAsync<NotAbleException>(() => printer.WriteMeshAsync(new MeshNodes(Shipped.Wren.Mesh.Area, 5, 5, [.. new double[25]]), default));
        Assert.False((await printer.IdentifyAsync(default)).Abilities.WriteMeshNodes);
    }

    [Fact]
    public async Task A_pin_on_a_servo_output_is_moved_when_the_usual_words_are_unknown()
    {
        (Printer printer, FakeController controller) = await ConnectedAsync();
        controller.Instead = text => text is "M401" or "M402" ? throw new CommandUnknownException(text, "unknown command") : null;

        await printer.ExtendProbeAsync(default);
        await printer.RetractProbeAsync(default);

        Assert.Contains("M280 P0 S10", controller.Sent);
        Assert.Contains("M280 P0 S90", controller.Sent);
        Assert.False(printer.Now.ProbeExtended);
    }

    [Fact]
    public async Task A_pin_that_is_out_is_taken_in_before_a_touch_so_that_it_is_in_afterwards()
    {
        // Found by the simulated machine: a controller that finds the pin out leaves it out, and it was led over a clip.
        (Printer printer, FakeController controller) = await HomedAsync();
        await printer.ExtendProbeAsync(default);

        await printer.TouchAsync(Middle, default);

        Assert.True(controller.Sent.IndexOf("M402") is int retracted and > 0 && retracted < controller.Sent.FindIndex(line => line.StartsWith("G30", StringComparison.Ordinal)));
    }

    [Fact]
    public async Task A_probe_that_does_not_come_out_leaves_its_place_unknown()
    {
        (Printer printer, FakeController controller) = await HomedAsync();
        controller.Instead = text => text == "M401" ? ["error: the probe failed to extend"] : null;

        await Assert.ThrowsAsync<ProbeFaultException>(() => printer.ExtendProbeAsync(default));
        Assert.Equal(ProbePosture.Unknown, printer.Guard.State.Probe);
    }

    [Fact]
    public async Task A_motion_without_an_answer_is_followed_by_a_question_for_the_position()
    {
        (Printer printer, FakeController controller) = await HomedAsync();
        bool once = true;
        controller.Instead = text =>
        {
            if (text.StartsWith("G1", StringComparison.Ordinal) && once)
            {
                once = false;
                throw new LinkSilentException(TimeSpan.FromSeconds(30), text, CommandKind.Motion);
            }

            return null;
        };
        await Assert.ThrowsAsync<LinkSilentException>(() => printer.MoveNozzleAsync(Middle, default));
        Assert.Null(printer.Now.Position);
        controller.Sent.Clear();

        await printer.MoveNozzleAsync(Middle, default);

        int move = controller.Sent.FindIndex(line => line.StartsWith("G1", StringComparison.Ordinal));
        Assert.Contains("M114", controller.Sent.Take(move));
        Assert.Single(controller.Sent, line => line.StartsWith("G1", StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_lift_that_broke_off_is_followed_by_absolute_targets_before_anything_moves()
    {
        (Printer printer, FakeController controller) = await ConnectedAsync();
        controller.Instead = text => text.StartsWith("G1", StringComparison.Ordinal) ? throw new LinkSilentException(TimeSpan.FromSeconds(30), text, CommandKind.Motion) : null;
        await Assert.ThrowsAsync<LinkSilentException>(() => printer.LiftUnhomedAsync(5, default));
        controller.Instead = _ => null;
        controller.Sent.Clear();

        await printer.HomeAsync(Axes.All, default);

        Assert.Equal("G90", controller.Sent[0]);
    }

    [Fact]
    public async Task A_halt_goes_out_at_once_and_leaves_nothing_allowed()
    {
        (Printer printer, FakeController controller) = await HomedAsync();

        Assert.True(printer.Halt());

        Assert.Equal("halt", controller.Sent[^1]);
        Assert.Equal(Axes.None, printer.Now.Homed);
        Assert.NotNull(printer.Guard.Decide(new MotionRequest.Home(Axes.All)));
    }

    [Fact]
    public async Task A_dwell_is_sent_in_pieces_so_that_a_halt_is_never_late()
    {
        (Printer printer, FakeController controller) = await ConnectedAsync();
        controller.Sent.Clear();

        await printer.DwellAsync(TimeSpan.FromSeconds(5), default);

        Assert.Equal(["G4 P2000", "G4 P2000", "G4 P1000"], controller.Sent);
    }

    [Fact]
    public async Task Settings_are_read_under_plain_names_and_survive_a_damaged_line()
    {
        (Printer printer, FakeController controller) = await ConnectedAsync();
        int asked = 0;
        controller.Instead = text => text == "M503" && asked++ == 0 ? ["echo:M92 X80.00 Y80.00 Z400.00", "echo:M84 S6#0"] : null;

        SettingsReport report = await printer.ReadSettingsAsync(default);

        Assert.Equal("600 s", report.Values["idle release"]);
        Assert.Equal(["echo:M92 X80.00 Y80.00 Z400.00", "echo:M84 S600"], report.RawLines.ToArray());
    }

    [Fact]
    public async Task A_controller_that_does_not_say_its_idle_time_is_told_one_and_that_is_known()
    {
        var controller = new FakeController { Instead = text => text == "M503" ? ["echo:M92 X80.00 Y80.00 Z400.00"] : null };
        Printer printer = await Printer.ConnectAsync(controller, Shipped.LineAck, Shipped.Wren, TimeProvider.System);

        Assert.Equal(TimeSpan.FromMinutes(15), printer.Now.IdleReleaseToldTo);
        Assert.Contains(controller.Sent, text => text.StartsWith("M84 S900", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Steps_down_to_the_paper_follow_the_guard()
    {
        (Printer printer, FakeController controller) = await HomedAsync();
        Reading touch = await printer.TouchAsync(Middle, default);
        await printer.LiftToClearanceAsync(default);
        await printer.MoveNozzleAsync(Middle, default);
        printer.BeginStepDown(touch.Z, 2.2);
        await printer.MoveToHeightAsync(0.8, 600, default);
        NozzlePosition at = await printer.MoveToHeightAsync(0.7025, 60, default);

        Assert.Equal(0.7025, at.Z);
        Assert.Equal(0.7025, controller.Z, 6);
        await Assert.ThrowsAsync<MotionRefusedException>(() => printer.MoveToHeightAsync(0.5, 60, default));
        printer.DeclareContact(0.7025);
        await printer.MoveToHeightAsync(0.6025, 60, default);
        await Assert.ThrowsAsync<MotionRefusedException>(() => printer.MoveToHeightAsync(0.6, 60, default));
        await Assert.ThrowsAsync<MotionRefusedException>(() => printer.MoveNozzleAsync(new BedPoint(60, 60), default));
        await printer.LiftToClearanceAsync(default);
        await printer.MoveNozzleAsync(new BedPoint(60, 60), default);
    }
}
