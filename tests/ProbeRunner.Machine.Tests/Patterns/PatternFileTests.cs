using ProbeRunner.Machine.Dialects;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Heat;
using ProbeRunner.Machine.Patterns;
using ProbeRunner.Machine.Printers;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Toml;

namespace ProbeRunner.Machine.Tests.Patterns;

/// <summary>What must not get into a file is refused before it is written; the file itself is read by another parser in the checks.</summary>
public sealed class PatternFileTests
{
    private static readonly PatternHeat Warm = new(140, 210, 60);

    [Fact]
    public void A_patch_is_approached_from_above_the_clips_and_left_upwards()
    {
        string[] lines = Render(new PatternBlock("one", new BedPoint(50, 50), 0.2, 1200, [new LaidLine(new BedPoint(66, 50), 0.5)])).Split('\n');

        int laid = Array.FindIndex(lines, line => line.Contains(" E0.50000", StringComparison.Ordinal));
        Assert.Equal("G1 Z0.2000 F600", lines[laid - 2]);
        Assert.Equal("G1 X50.000 Y50.000 F6000", lines[laid - 3]);
        Assert.Equal("G1 Z13.0000 F600", lines[laid - 4]); // clips of 8 mm, 5 mm above them
        Assert.Equal("G1 Z13.0000 F600", lines[laid + 1]);
        Assert.Equal("; one", lines[laid - 5]);
    }

    [Theory]
    [InlineData(2, 50, 0.2)]
    [InlineData(50, 238, 0.2)]
    [InlineData(120, 8, 0.2)] // a clip 2 mm away
    [InlineData(50, 50, 0.09)]
    [InlineData(50, 50, 0.41)]
    [InlineData(50, 50, double.NaN)]
    [InlineData(double.NaN, 50, 0.2)]
    public void A_patch_beside_the_printable_area_near_a_clip_or_at_no_height_for_a_layer_is_refused(double x, double y, double height) =>
        Assert.Throws<ArgumentException>(() => Render(new PatternBlock("bad", new BedPoint(50, 50), height, 1200, [new LaidLine(new BedPoint(x, y), 0.5)])));

    [Theory]
    [InlineData(261, 60)]
    [InlineData(60, 60)]
    [InlineData(210, 101)]
    public void A_temperature_beyond_the_caps_or_too_cool_to_lay_is_refused(double nozzle, double bed) =>
        Assert.Throws<HeatRefusedException>(() => PatternFile.Render(Dialect(), Profile(), new PatternHeat(140, nozzle, bed), [], []));

    [Fact]
    public void A_remark_says_nothing_to_the_machine()
    {
        string text = PatternFile.Render(Dialect(), Profile(), Warm, ["one\nG1 X0\u001b[2J\u202e"], []);

        Assert.StartsWith("; one?G1 X0?[2J?\n", text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_dialect_that_says_nothing_of_patterns_can_write_none()
    {
        string without = Dialect().Text.Replace("comment = \";\"", string.Empty, StringComparison.Ordinal)
            .Replace("[pattern]", "[settings.X1]", StringComparison.Ordinal);
        without = string.Join('\n', without.Split('\n').Where(line => !line.StartsWith("begin =", StringComparison.Ordinal) && !line.StartsWith("end =", StringComparison.Ordinal)));

        Assert.Throws<NotAbleException>(() => PatternFile.Render(DialectReader.Read(TomlFile.Parse(without, "bare.toml")), Profile(), Warm, [], []));
    }

    private static string Render(PatternBlock block) => PatternFile.Render(Dialect(), Profile(), Warm, [], [block]);

    private static MachineProfile Profile() => Shipped.Catalogue.Machine("wren-240");

    private static Dialect Dialect() => Shipped.Catalogue.Dialect("line-ack");
}
