using ProbeRunner.Machine.Dialects;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Transport.Commands;

namespace ProbeRunner.Machine.Tests.Dialects;

/// <summary>Every variant of the wire's wording that this trade's controllers use, through the dialect that is shipped.</summary>
public sealed class LineAckTests
{
    private static readonly ReplyReader Reader = new(Shipped.LineAck);

    [Theory]
    [InlineData("ok", LineKind.Acknowledge, null)]
    [InlineData("OK", LineKind.Acknowledge, null)]
    [InlineData("ok P15 B3", LineKind.Acknowledge, null)]
    [InlineData("ok N12 P15 B3", LineKind.Acknowledge, 12)]
    [InlineData("ok T:21.4 /0.0 B:21.0 /0.0 @:0 B@:0", LineKind.Acknowledge, null)]
    [InlineData("Resend: 12", LineKind.Resend, 12)]
    [InlineData("resend:12", LineKind.Resend, 12)]
    [InlineData("rs 12", LineKind.Resend, 12)]
    [InlineData("rs N12", LineKind.Resend, 12)]
    [InlineData("Error: checksum mismatch, last good line 11", LineKind.Error, null)]
    [InlineData("echo:busy: processing", LineKind.Busy, null)]
    [InlineData("busy: heating", LineKind.Busy, null)]
    [InlineData("start", LineKind.ResetBanner, null)]
    [InlineData("echo:Unknown command: \"M999\"", LineKind.UnknownCommand, null)]
    [InlineData("unknown command G77", LineKind.UnknownCommand, null)]
    [InlineData("Error: printer halted, kill() called", LineKind.Halted, null)]
    [InlineData("!! Killed", LineKind.Halted, null)]
    [InlineData("wait", LineKind.Idle, null)]
    [InlineData(" T:21.4 /0.0 B:21.0 /0.0 @:0 B@:0", LineKind.TemperatureReport, null)]
    [InlineData("T0:210.2 /210.0 B:60.0 /60.0", LineKind.TemperatureReport, null)]
    [InlineData("echo:start of something", LineKind.Other, null)]
    [InlineData("// note", LineKind.Other, null)]
    [InlineData("okay then", LineKind.Other, null)]
    [InlineData("restarted", LineKind.Other, null)]
    [InlineData("X:110.00 Y:110.00 Z:5.00 E:0.00", LineKind.Other, null)]
    [InlineData("", LineKind.Other, null)]
    public void A_line_means_what_the_trade_means_by_it(string line, LineKind kind, int? number) =>
        Assert.Equal(new ClassifiedLine(kind, number), Shipped.LineAck.Classify(line));

    [Fact]
    public void A_line_is_numbered_and_sealed_as_the_trade_does()
    {
        Assert.Equal("N12 G28", Shipped.LineAck.Number("G28", 12));
        Assert.Equal("N12 G28*35", Shipped.LineAck.Seal("N12 G28", 35));
        Assert.Equal("M110 N999", Shipped.LineAck.SetLineNumber(999));
        Assert.Equal("M112", Shipped.LineAck.HaltLine);
    }

    [Theory]
    [InlineData("X:110.00 Y:110.00 Z:5.00 E:0.00", 110, 110, 5)]
    [InlineData("X:110.00 Y:110.00 Z:5.00 E:0.00 Count X:8800 Y:8800 Z:2000", 110, 110, 5)]
    [InlineData("X: 1.5 Y: -2.25 Z: 0.1234", 1.5, -2.25, 0.1234)]
    [InlineData("x:1.00, y:2.00, z:3.00", 1, 2, 3)]
    public void The_first_labelled_set_of_a_position_report_counts(string line, double x, double y, double z) =>
        Assert.Equal((x, y, z), Reader.Position(["// remark", line]));

    [Theory]
    [InlineData("X:110.00 Y:11#.00 Z:5.00 E:0.00")]
    [InlineData("X:110.00 Y:110.00 Z:5.0x E:0.00")]
    [InlineData("X:110.00 Y:110.00 Z:5 00")]
    [InlineData("X:110.00 Y:110.00")]
    [InlineData("Count X:8800 Y:8800 Z:2000")]
    [InlineData("X:1e5 Y:110.00 Z:5.00")]
    [InlineData("X:nan Y:nan Z:nan")]
    public void A_position_report_that_is_not_well_formed_is_none(string line) => Assert.Null(Reader.Position([line]));

    [Theory]
    [InlineData("Bed touched at X: 110.00 Y: 110.00 Z: 0.123", 110, 110, 0.123)]
    [InlineData("Bed X:110.00 Y:110.00 Z:-0.12", 110, 110, -0.12)]
    [InlineData("echo:Bed X: 110.000 Y: 9.000 Z: 2.1234", 110, 9, 2.1234)]
    [InlineData("touch 110.000,110.000 gives z=0.1230", 110, 110, 0.123)]
    [InlineData("probe at 110.000,9.500 is z=-0.1230", 110, 9.5, -0.123)]
    [InlineData("result: (-12.50, 33.25) z = 1.002", -12.5, 33.25, 1.002)]
    public void A_touch_report_is_read_labelled_or_positional(string line, double x, double y, double z)
    {
        Assert.Equal((x, y, z), Reader.Touch([line]));
        Assert.True(Shipped.LineAck.Commands(Verb.Touch, ("x", 1), ("y", 1))[0].Answer!(line));
    }

    [Theory]
    [InlineData("Bed X: 110.00 Y: 110.00 Z: 0.1z3")]
    [InlineData("Bed X: 110.00 Y: 110.00 Z: O.123")]
    [InlineData("Bed X: 110.00 Y: 11O.00 Z: 0.123")]
    [InlineData("touch 110.000,110.000 gives z=0.12%0")]
    [InlineData("Bed X: 110.00 Y: 110.00 Z: 0,123")]
    public void A_touch_report_with_a_damaged_number_is_none(string line) => Assert.Null(Reader.Touch([line]));

    [Theory]
    [InlineData("Error:Probing Failed")]
    [InlineData("probe: error")]
    [InlineData("Probe did not trigger")]
    [InlineData("failed to deploy the probe")]
    [InlineData("// PROBE NOT TRIGGERED after 10 mm")]
    public void A_failed_touch_is_recognised_and_answers_the_touch(string line)
    {
        Assert.Equal(line, Reader.TouchFailure(["echo:note", line]));
        Assert.True(Shipped.LineAck.Commands(Verb.Touch, ("x", 1), ("y", 1))[0].Answer!(line));
    }

    [Fact]
    public void Switches_are_read_however_they_are_spelt()
    {
        var switches = Reader.Switches(["Reporting endstop status", "x_min: open", "y_min: TRIGGERED", "z_probe: open", "echo:Z Min : triggered", "probe: not triggered"]);

        Assert.Equal(ProbeState.Open, switches["x min"]);
        Assert.Equal(ProbeState.Triggered, switches["y min"]);
        Assert.Equal(ProbeState.Open, switches["z probe"]);
        Assert.Equal(ProbeState.Triggered, switches["z min"]);
        Assert.Equal(ProbeState.Open, switches["probe"]);
        Assert.Equal(5, switches.Count);
    }

    [Theory]
    [InlineData("Probe Offset X-38.00 Y-9.00 Z-2.15")]
    [InlineData("echo:  M851 X-38.00 Y-9.00 Z-2.15 ; (mm)")]
    [InlineData("M851 X-38.000 Y-9.000 Z-2.1500")]
    [InlineData("probe offset X:-38.00 Y:-9.00 Z:-2.15")]
    public void The_probe_offset_is_read_from_words_or_from_the_command_itself(string line) =>
        Assert.Equal(new ProbeOffset(-38, -9, -2.15), Reader.ProbeOffset([line]));

    [Theory]
    [InlineData("echo:Bed levelling On", true)]
    [InlineData("mesh correction OFF", false)]
    [InlineData("Mesh compensation is on", true)]
    [InlineData("echo:Bed levelling Of", null)]
    [InlineData("ok", null)]
    public void The_mesh_line_ends_in_on_or_off(string line, bool? on) => Assert.Equal(on, Reader.State([line], ReplyKeys.MeshState));

    [Fact]
    public void A_mesh_table_is_read_with_and_without_row_numbers()
    {
        string[] numbered = ["   0      1", "1 +0.300 +0.400", "0 -0.100 +0.200", "mesh correction on"];
        string[] bare = [" -0.10  0.20", " +0.30  0.40"];

        (var rows, double rounding) = Reader.Mesh(numbered);
        Assert.Equal([-0.1, 0.2], rows[0].ToArray());
        Assert.Equal([0.3, 0.4], rows[1].ToArray());
        Assert.Equal(0.0005, rounding, 12);
        (rows, rounding) = Reader.Mesh(bare);
        Assert.Equal([-0.1, 0.2], rows[0].ToArray());
        Assert.Equal(0.005, rounding, 12);
    }

    [Fact]
    public void A_settings_report_becomes_plain_names_with_units()
    {
        var values = Reader.Settings(["echo:; stored settings:", "echo: M92 X80.00 Y80.00 Z400.00 E93.0", "M851 X-38.00 Y-9.00 Z-2.15", "echo:M84 S600", "M420 S0 Z0.00", "M9999 Q1"]);

        Assert.Equal("400.00 steps/mm", values["steps per mm Z"]);
        Assert.Equal("-2.15 mm", values["probe offset Z"]);
        Assert.Equal("600 s", values["idle release"]);
        Assert.Equal("0", values["mesh correction"]);
    }

    [Theory]
    [InlineData("ok T:21.4 /0.0 B:21.0 /0.0 @:0 B@:0")]
    [InlineData(" T:21.4 /0.0 B:21.0 /0.0 @:0 B@:0")]
    [InlineData("T:21.4/0.0 B:21.0/0.0")]
    [InlineData("ok B:21.0 /0.0 T0:21.4 /0.0 @:0")]
    public void Temperatures_are_read_on_or_off_the_acknowledgement(string line) => Assert.Equal((21.4, 0, 21, 0), Reader.Temperatures([line]));

    [Fact]
    public void An_identification_gives_fields_and_capabilities()
    {
        var fields = Reader.Identity(["FIRMWARE_NAME:Plover 2.1 (bench) MACHINE_TYPE:Wren 240 UUID:ab-12", "Cap:SETTINGS_STORE:1", "AUTOREPORT_TEMP:0"]);

        Assert.Equal("Plover 2.1 (bench)", fields["FIRMWARE_NAME"]);
        Assert.Equal("Wren 240", fields["MACHINE_TYPE"]);
        Assert.Equal("ab-12", fields["UUID"]);
        Assert.Equal("1", fields["SETTINGS_STORE"]);
        Assert.Equal("0", fields["AUTOREPORT_TEMP"]);
    }

    [Fact]
    public void No_verb_waits_for_a_heater_inside_the_controller()
    {
        // The waiting forms block everything else; only these two letters differ from the plain ones.
        // A pattern written to a file is printed by itself, with nobody to watch temperatures: there they are right.
        string text = string.Concat(Shipped.LineAck.Text.Split("\n[").Where(section => !section.StartsWith("pattern]", StringComparison.Ordinal)));
        Assert.DoesNotContain("M109", text, StringComparison.Ordinal);
        Assert.DoesNotContain("M190", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Hostile_lines_take_bounded_time_and_throw_nothing()
    {
        string[] hostile =
        [
            new('X', 4096),
            string.Concat(Enumerable.Repeat("X: 1.00 ", 500)),
            "X:\0Y:\0Z:\0",
            "ok\u001b[2J\u202e",
            new string(' ', 4000) + "ok",
            string.Concat(Enumerable.Repeat("1.00,", 800)),
            "Resend: 99999999999999999999",
        ];
        foreach (string line in hostile)
        {
            Shipped.LineAck.Classify(line);
            Assert.Null(Reader.Touch([line]));
            Assert.Null(Reader.Position([line]));
            Reader.Settings([line]);
            Reader.Identity([line]);
            Reader.Mesh([line]);
        }
    }
}
