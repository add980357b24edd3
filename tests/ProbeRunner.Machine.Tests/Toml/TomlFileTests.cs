using ProbeRunner.Machine.Toml;

namespace ProbeRunner.Machine.Tests.Toml;

public sealed class TomlFileTests
{
    private static readonly Dictionary<string, int> Colours = new(StringComparer.Ordinal) { ["grey"] = 1, ["amber"] = 2 };

    [Fact]
    public void Values_of_every_kind_are_read()
    {
        TomlFile file = TomlFile.Parse(
            """
            name = "bench"
            height = 2
            list = [1.5, 2]
            lists = [[1, 2], [3, 4]]
            words = ["a", "b"]
            on = true
            colour = "amber"
            nested.deep = 3
            [inner]
            feed = 1e2
            [[item]]
            n = 1
            [[item]]
            n = 2
            [item.sub]
            x = 7
            """,
            "bench.toml");

        Assert.Equal("bench", file.Root.Text("name"));
        Assert.Equal(2.0, file.Root.Number("height", 0, 10));
        Assert.Equal([1.5, 2], file.Root.Numbers("list", "a, b", 2, 0, 9).ToArray());
        Assert.Equal([3, 4], file.Root.NumberLists("lists", "a, b", 2, 0, 9)[1].ToArray());
        Assert.Equal(["a", "b"], file.Root.Texts("words").ToArray());
        Assert.True(file.Root.Flag("on"));
        Assert.Equal(2, file.Root.OneOf("colour", Colours));
        Assert.Equal(3, file.Root.Section("nested").Whole("deep", 0, 5));
        Assert.Equal(100, file.Root.Section("inner").Number("feed", 0, 1000));
        Assert.Equal([1, 2], file.Root.Sections("item").Select(item => item.Whole("n", 0, 5)));
        Assert.Equal(7, file.Root.Sections("item")[1].Section("sub").Whole("x", 0, 9));
        Assert.Equal(5, file.Root.Whole("absent", 0, 9, 5));
        file.Finish();
    }

    [Fact]
    public void An_unknown_key_is_a_fault_at_its_place_and_names_the_nearest_known_key()
    {
        TomlFile file = TomlFile.Parse("[probe]\nextended = 1\nretracetd = 2\n", "m.toml");
        TomlSection probe = file.Root.Section("probe");
        probe.Number("extended", 0, 5);
        probe.Number("retracted", 0, 5, 1);

        FileFaultException faults = Assert.Throws<FileFaultException>(file.Finish);

        Assert.Equal("m.toml:3:1: unknown key retracetd in [probe]; did you mean retracted?", faults.Message);
    }

    [Fact]
    public void All_faults_of_a_file_are_named_at_once_in_file_order()
    {
        TomlFile file = TomlFile.Parse("height = \"tall\"\ncolour = \"ambre\"\nwidth = inf\ncount = 1.5\n", "m.toml");
        file.Root.Number("width", 0, 5);
        file.Root.OneOf("colour", Colours);
        file.Root.Number("height", 0, 5);
        file.Root.Whole("count", 0, 5);
        file.Root.Text("missing");

        FileFaultException faults = Assert.Throws<FileFaultException>(file.Finish);

        Assert.Equal(
            [
                "m.toml:1:1: the key missing is missing; it takes text in quotes",
                "m.toml:1:10: height is the text \"tall\"; accepted is a number from 0 to 5",
                "m.toml:2:10: colour is the text \"ambre\"; accepted is one of \"grey\", \"amber\"; did you mean \"amber\"?",
                "m.toml:3:9: width is Infinity; accepted is a number from 0 to 5",
                "m.toml:4:9: count is 1.5; accepted is a whole number from 0 to 5",
            ],
            faults.Faults.Select(fault => fault.ToString()));
    }

    [Fact]
    public void A_missing_section_is_one_fault_not_one_for_each_of_its_keys()
    {
        TomlFile file = TomlFile.Parse("", "m.toml");
        file.Root.Section("probe").Number("extended", 0, 5);

        FileFault fault = Assert.Single(Assert.Throws<FileFaultException>(file.Finish).Faults);

        Assert.Contains("probe is missing", fault.ToString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("a = ")]
    [InlineData("a = 1\na = 2")]
    [InlineData("[a\nb = 1")]
    [InlineData("a = 1,5")]
    public void What_is_not_TOML_is_refused_with_its_place(string text)
    {
        FileFaultException faults = Assert.Throws<FileFaultException>(() => TomlFile.Parse(text, "m.toml"));

        Assert.All(faults.Faults, fault => Assert.True(fault.Where.Line >= 1, fault.ToString()));
    }

    [Fact]
    public void Control_characters_from_a_file_are_shown_as_text()
    {
        TomlFile file = TomlFile.Parse("colour = \"\\u001b[2J\\u202e\"\n", "m.toml");
        file.Root.OneOf("colour", Colours);

        string message = Assert.Throws<FileFaultException>(file.Finish).Message;

        Assert.DoesNotContain('\u001b', message);
        Assert.DoesNotContain('\u202e', message);
    }

    [Fact]
    public void A_missing_file_a_folder_and_one_that_is_not_text_are_faults_not_crashes()
    {
        string folder = Directory.CreateTempSubdirectory().FullName;
        string binary = Path.Combine(folder, "binary.toml");
        File.WriteAllBytes(binary, [0xff, 0xfe, 0x00]);

        Assert.Contains("no such file", Assert.Throws<FileFaultException>(() => TomlFile.Load(Path.Combine(folder, "no.toml"))).Message, StringComparison.Ordinal);
        Assert.Throws<FileFaultException>(() => TomlFile.Load(folder));
        Assert.Contains("UTF-8", Assert.Throws<FileFaultException>(() => TomlFile.Load(binary)).Message, StringComparison.Ordinal);
        Directory.Delete(folder, recursive: true);
    }

    [Fact]
    public void What_a_command_line_sets_wins_over_the_file()
    {
        TomlFile file = TomlFile.Parse("a = 1\n[inner]\nb = 2\nc = 3\n", "m.toml");
        file.Root.Override(TomlFile.Parse("inner.b = 20", "--set").Root);

        Assert.Equal(1, file.Root.Whole("a", 0, 99));
        Assert.Equal(20, file.Root.Section("inner").Whole("b", 0, 99));
        Assert.Equal(3, file.Root.Section("inner").Whole("c", 0, 99));
        file.Finish();
    }

    [Theory]
    [InlineData("", "abc", 3)]
    [InlineData("kitten", "sitting", 3)]
    [InlineData("abcd", "acbd", 1)]
    [InlineData("same", "SAME", 0)]
    public void Edit_distance_agrees_with_textbook_pairs(string one, string other, int distance) =>
        Assert.Equal(distance, NearestWord.Distance(one, other));
}
