using ProbeRunner.SimulatedPrinter.Scenarios;

namespace ProbeRunner.SimulatedPrinter.Tests.Wire;

public class LineTests
{
    [Fact]
    public void A_numbered_line_with_the_right_checksum_is_taken() => Bench.Run(Bench.Good(), async bench =>
    {
        Assert.Equal(["ok"], await bench.SendAsync(Bench.Seal(7, "M110 N7")));
        Assert.Equal(["ok"], await bench.SendAsync(Bench.Seal(8, "G90")));
    });

    [Fact]
    public void A_line_whose_checksum_is_wrong_is_refused_asked_for_again_and_not_acted_on() => Bench.Run(Bench.Good(), async bench =>
    {
        await bench.SendAsync("M110 N0");
        Assert.Equal(["error: checksum does not fit, last good line: 0", "Resend: 1", "ok"], await bench.SendAsync("N1 M140 S60*1"));
        Assert.Equal(0, bench.Truth.HeaterTargets.Bed);
        Assert.Equal(["ok"], await bench.SendAsync(Bench.Seal(1, "M140 S60")));
        Assert.Equal(60, bench.Truth.HeaterTargets.Bed);
    });

    [Theory]
    [InlineData("Resend: n", "Resend: 4")]
    [InlineData("rs n", "rs 4")]
    [InlineData("rs Nn", "rs N4")]
    public void A_resend_request_comes_in_each_of_the_usual_forms(string form, string expected) => Bench.Run(
        ScenarioFile.Parse($"machine = \"wren-240\"\n[controller]\nresend = \"{form}\"", "test"), async bench =>
        {
            await bench.SendAsync("M110 N3");
            Assert.Equal(expected, (await bench.SendAsync(Bench.Seal(9, "G90")))[1]);
        });

    [Fact]
    public void A_number_had_before_is_refused_with_a_request_for_the_next() => Bench.Run(Bench.Good(), async bench =>
    {
        await bench.SendAsync("M110 N0");
        await bench.SendAsync(Bench.Seal(1, "G90"));
        Assert.Equal("Resend: 2", (await bench.SendAsync(Bench.Seal(1, "G90")))[1]);
    });

    [Fact]
    public void Every_single_bad_byte_in_a_numbered_line_leaves_the_machine_as_it_was() => Bench.Run(Bench.Good(), async bench =>
    {
        await bench.SendAsync("M110 N0");
        var line = Bench.Seal(1, "M140 S60");
        for (var at = 0; at < line.Length; at++)
        {
            for (var bits = 1; bits < 256; bits++)
            {
                var spoilt = line.ToCharArray();
                spoilt[at] = (char)(spoilt[at] ^ bits);
                await bench.WriteAsync(new string(spoilt) + "\n");
            }
        }

        await bench.SendAsync("M155 S0");
        Assert.Equal(0, bench.Truth.HeaterTargets.Bed);
    });

    [Theory]
    [InlineData("X1 M140 S60*9")]
    [InlineData("1 M140 S60*9")]
    public void A_spoilt_first_letter_may_be_answered_as_an_unknown_command_that_is_not_done(string spoilt) =>
        Bench.Run(Bench.Good(controller => controller with { SpoiltNumberIsUnknownCommand = true }), async bench =>
        {
            var answer = await bench.SendAsync(spoilt);
            Assert.Contains("unknown command", answer[0], StringComparison.Ordinal);
            Assert.Equal(0, bench.Truth.HeaterTargets.Bed);
        });

    [Fact]
    public void A_controller_without_checksums_knows_no_numbered_lines() =>
        Bench.Run(Bench.Good(controller => controller with { Checksums = false }), async bench =>
        {
            Assert.Contains("unknown command", (await bench.SendAsync(Bench.Seal(1, "G90")))[0], StringComparison.Ordinal);
            Assert.Equal(["ok"], await bench.SendAsync("G90"));
        });

    [Fact]
    public void A_controller_that_wants_numbers_refuses_plain_lines_but_the_one_that_sets_the_number() =>
        Bench.Run(Bench.Good(controller => controller with { Unnumbered = false }), async bench =>
        {
            Assert.StartsWith("error", (await bench.SendAsync("G90"))[0], StringComparison.Ordinal);
            Assert.Equal(["ok"], await bench.SendAsync("M110 N0"));
        });

    [Theory]
    [InlineData(OkStyle.Plain, "ok")]
    [InlineData(OkStyle.Buffers, "ok P16 B4")]
    [InlineData(OkStyle.Numbered, "ok N5 P16 B4")]
    public void An_acknowledgement_comes_in_each_of_the_usual_forms(OkStyle style, string expected) =>
        Bench.Run(Bench.Good(controller => controller with { Ok = style }), async bench =>
            Assert.Equal([expected], await bench.SendAsync(Bench.Seal(5, "M110 N5"))));

    [Fact]
    public void Comments_empty_lines_carriage_returns_and_lower_case_are_taken() => Bench.Run(Bench.Good(), async bench =>
    {
        await bench.WriteAsync("\r\n\n");
        Assert.Equal(["ok"], await bench.SendAsync("g90 ; absolute from here\r"));
    });

    [Fact]
    public void An_unknown_command_is_named_and_acknowledged() => Bench.Run(Bench.Good(), async bench =>
        Assert.Equal(["echo:unknown command: \"M777 S1\"", "ok"], await bench.SendAsync("M777 S1")));

    [Fact]
    public void A_megabyte_without_an_end_costs_no_memory_and_the_next_line_is_understood() => Bench.Run(Bench.Good(), async bench =>
    {
        await bench.WriteAsync(new string('x', 1 << 20) + "\n");
        await bench.ReadToAsync(line => line == "ok");
        Assert.Equal(["ok"], await bench.SendAsync("G90"));
    });
}
