namespace ProbeRunner.SimulatedPrinter.Tests.Senses;

public class BystanderTests
{
    [Fact]
    public void Paper_is_free_drags_and_is_pinched_as_the_nozzle_comes_down() => Bench.Run(
        Bench.Good() with { Person = Bench.Good().Person with { FeelSdMm = 0, LapseChance = 0 } }, async bench =>
        {
            await bench.HomeAsync();
            await bench.SendAsync("M211 S0");
            await bench.SendAsync("G1 X120 Y120 Z1 F6000");
            Assert.Equal("no paper", bench.Printer.Ask("feel"));
            bench.Printer.Ask("paper in");
            List<string> felt = [];
            foreach (var gap in new[] { 0.5, 0.11, 0.09, 0.05, 0.03, 0.01 })
            {
                await bench.SendAsync(FormattableString.Invariant($"G1 Z{bench.Truth.ContactHeightAt(120, 120) + gap:F3} F300"));
                await bench.SendAsync("M400");
                felt.Add(bench.Printer.Ask("feel"));
            }

            Assert.Equal(["free", "free", "drags", "drags", "pinched", "pinched"], felt);
        });

    [Fact]
    public void A_person_is_never_sure_near_the_threshold() => Bench.Run(Bench.Good(), async bench =>
    {
        await bench.HomeAsync();
        await bench.SendAsync("M211 S0");
        await bench.SendAsync("G1 X120 Y120 Z1 F6000");
        await bench.SendAsync(FormattableString.Invariant($"G1 Z{bench.Truth.ContactHeightAt(120, 120) + 0.1:F3} F300"));
        await bench.SendAsync("M400");
        bench.Printer.Ask("paper in");
        var free = Enumerable.Range(0, 400).Count(_ => bench.Printer.Ask("feel") == "free");
        Assert.InRange(free, 140, 260);
    });

    [Fact]
    public void Eyes_see_roughly_how_wide_a_gap_is() => Bench.Run(Bench.Good(), async bench =>
    {
        await bench.SendAsync("M851 Z-2.15");
        await bench.HomeAsync();
        List<string> seen = [];
        foreach (var z in new[] { 20, 5, 1 })
        {
            await bench.SendAsync(FormattableString.Invariant($"G1 X120 Y120 Z{z} F6000"));
            await bench.SendAsync("M400");
            seen.Add(bench.Printer.Ask("look gap"));
        }

        Assert.Equal(["wide", "few-mm", "about-one-mm"], seen);
    });

    [Fact]
    public void Eyes_see_what_moved_and_on_this_machine_the_bed_moves_along_y() => Bench.Run(Bench.Good(), async bench =>
    {
        Assert.Equal("nothing", bench.Printer.Ask("look motion"));
        await bench.HomeAsync();
        List<string> seen = [];
        foreach (var move in new[] { "X200", "X190", "Y170", "Y160", "Z20", "Z15" })
        {
            await bench.SendAsync($"G1 {move} F6000");
            await bench.SendAsync("M400");
            seen.Add(bench.Printer.Ask("look motion"));
        }

        Assert.Equal(["nozzle right", "nozzle left", "bed front", "bed back", "nozzle up", "nozzle down"], seen);
    });

    [Fact]
    public void A_finger_stops_the_next_descent_high_above_the_bed() => Bench.Run(Bench.Good(), async bench =>
    {
        await bench.SendAsync("G28 X Y");
        bench.Printer.Ask("finger next-descent");
        await bench.SendAsync("G28 Z");
        Assert.True(bench.Truth.GapMm > 4);
        Assert.True(Math.Abs(bench.Truth.DatumErrorsMm[0]) > 1);
        await bench.SendAsync("G28 Z");
        Assert.Equal(0, bench.Truth.DatumErrorsMm[1], 0.05);
    });

    [Fact]
    public void A_blob_drags_the_paper_until_it_is_wiped_off() => Bench.Run(
        Bench.Good() with { Person = Bench.Good().Person with { FeelSdMm = 0, LapseChance = 0, ResidueMm = 0.3 } }, async bench =>
        {
            await bench.HomeAsync();
            await bench.SendAsync("M211 S0");
            await bench.SendAsync("G1 X120 Y120 Z1 F6000");
            await bench.SendAsync(FormattableString.Invariant($"G1 Z{bench.Truth.ContactHeightAt(120, 120) + 0.35:F3} F300"));
            await bench.SendAsync("M400");
            bench.Printer.Ask("paper in");
            Assert.Equal("drags", bench.Printer.Ask("feel"));
            bench.Printer.Ask("wipe nozzle");
            Assert.Equal("free", bench.Printer.Ask("feel"));
        });

    [Fact]
    public void A_patch_shows_gaps_lies_well_or_is_squeezed_by_the_gap_it_was_laid_over() => Bench.Run(Bench.Good(), async bench =>
    {
        await bench.SendAsync("M851 Z-2.15");
        await bench.HomeAsync();
        Assert.Equal("nothing", bench.Printer.Ask("look patch 60 60"));
        foreach (var (x, z) in new[] { (50, 0.4), (100, 0.2), (150, 0.06) })
        {
            await bench.SendAsync(FormattableString.Invariant($"G1 X{x} Y60 Z{z} F3000"));
            await bench.SendAsync(FormattableString.Invariant($"G1 X{x + 20} E1 F1200"));
        }

        await bench.SendAsync("M400");
        Assert.Equal(
            ["gaps", "good", "ridges"],
            new[] { "look patch 60 60", "look patch 110 60", "look patch 160 60" }.Select(bench.Printer.Ask));
    });

    [Theory]
    [InlineData("height")]
    [InlineData("turn screw nowhere 1")]
    [InlineData("turn screw front left much")]
    [InlineData("")]
    public void What_is_not_understood_is_answered_with_a_question_mark(string question) => Bench.Run(Bench.Good(), bench =>
    {
        Assert.StartsWith("?", bench.Printer.Ask(question), StringComparison.Ordinal);
        return Task.CompletedTask;
    });
}
