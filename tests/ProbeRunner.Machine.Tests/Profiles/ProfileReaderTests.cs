using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Toml;

namespace ProbeRunner.Machine.Tests.Profiles;

public sealed class ProfileReaderTests
{
    private static readonly ProfileCatalogue Catalogue = new([Repository.Profiles]);

    private static string Wren { get; } = File.ReadAllText(Path.Combine(Repository.Profiles, "machines", "wren-240.toml"));

    [Theory]
    [InlineData("wren-240")]
    [InlineData("heron-330")]
    public void Every_machine_that_is_shipped_is_sound_and_called_as_its_file(string name) =>
        Assert.Equal(name, Catalogue.Machine(name).Name);

    [Fact]
    public void A_machine_reads_the_same_where_the_decimal_sign_is_a_comma() =>
        InCulture.Run("de-DE", () =>
        {
            MachineProfile machine = Catalogue.Machine("wren-240");
            Assert.Equal(0.0025, machine.Travel.ZStepMm);
            Assert.Equal(new BedRectangle(20, 20, 200, 220), machine.Mesh.Area);
            Assert.Equal(TimeSpan.FromMinutes(15), machine.Heat.Soak);
            Assert.True(machine.Travel.HomesWithProbe);
        });

    [Theory]
    [InlineData("clearance_mm", "clearence_mm", "did you mean clearance_mm?")]
    [InlineData("kind = \"retractable-pin\"", "kind = \"retractible-pin\"", "did you mean \"retractable-pin\"?")]
    [InlineData("z_datum = \"probe\"", "z_datum = \"bed\"", "one of \"probe\", \"switch\"")]
    [InlineData("nozzle_cap_celsius = 260", "nozzle_cap_celsius = 500", "from 40 to 350")]
    [InlineData("probing_nozzle_celsius = 140", "probing_nozzle_celsius = 300", "at most nozzle_cap_celsius")]
    [InlineData("printable_mm = [5, 5, 235, 235]", "printable_mm = [5, 5, 245, 235]", "inside [0, 0, 240, 240]")]
    [InlineData("homing_place_mm = [120, 120]", "homing_place_mm = [120, 3]", "near the middle of the bed")]
    [InlineData("homing_place_mm = [120, 120]", "homing_place_mm = [230, 120]", "cannot reach the homing place")]
    [InlineData("trigger_to_nozzle_mm = 2.2", "trigger_to_nozzle_mm = 3.2", "at most extended_below_nozzle_mm")]
    [InlineData("good_sigma_mm = 0.005", "good_sigma_mm = 0.02", "good_sigma_mm below bad_sigma_mm")]
    [InlineData("height_mm = 0.20", "height_mm = 0.50", "lowest_gap_mm < height_mm < highest_gap_mm")]
    [InlineData("touch_feed_mm_per_min = 300", "touch_feed_mm_per_min = 900", "from 30 to 600")]
    [InlineData("[100, 0, 140, 6]", "[300, 0, 340, 6]", "over the plate")]
    [InlineData("lowest_z_mm = -4", "lowest_z_mm = \"-4\"", "a number from -10 to 0")]
    public void A_wrong_profile_names_the_line_and_what_is_accepted(string right, string wrong, string expected)
    {
        Assert.Contains(right, Wren, StringComparison.Ordinal);
        string text = Wren.Replace(right, wrong, StringComparison.Ordinal);
        int line = text[..text.IndexOf(wrong, StringComparison.Ordinal)].Count(character => character == '\n') + 1;

        FileFaultException faults = Assert.Throws<FileFaultException>(() => ProfileReader.Read(TomlFile.Parse(text, "wren.toml")));

        Assert.Contains(faults.Faults, fault => fault.Where.Line == line && fault.ToString().Contains(expected, StringComparison.Ordinal));
    }

    [Fact]
    public void A_mistyped_machine_name_names_the_nearest_and_those_there_are()
    {
        string message = Assert.Throws<FileFaultException>(() => Catalogue.Machine("wren-204")).Message;

        Assert.Equal("wren-204: there is no machine of that name; did you mean wren-240? there are heron-330, wren-240, or give the path of a file", message);
    }

    [Fact]
    public void A_machine_is_also_found_by_its_path() =>
        Assert.Equal("wren-240", Catalogue.Machine(Path.Combine(Repository.Profiles, "machines", "wren-240.toml")).Name);
}
