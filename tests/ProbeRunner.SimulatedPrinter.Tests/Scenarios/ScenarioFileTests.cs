using ProbeRunner.SimulatedPrinter.Scenarios;

namespace ProbeRunner.SimulatedPrinter.Tests.Scenarios;

public class ScenarioFileTests
{
    [Fact]
    public void Every_shipped_scenario_can_be_read_and_says_what_it_teaches()
    {
        Assert.Empty(new[] { "far-corner", "good", "heron-good", "leaning-gantry", "loose-probe", "tilted", "warped" }.Except(ScenarioFile.Shipped));
        Assert.All(ScenarioFile.Shipped, name => Assert.NotEmpty(ScenarioFile.Load(name).Title));
    }

    [Fact]
    public void A_scenario_takes_its_machine_and_changes_what_it_says()
    {
        var scenario = ScenarioFile.Load("heron-good");
        Assert.Equal(("heron-330", 330.0, -165.0), (scenario.MachineName, scenario.Bed.WidthMm, scenario.Bed.ControllerOriginX));
        Assert.Equal(0.07, scenario.Bed.TiltYMm);
        Assert.Equal(["front left", "front right", "back"], scenario.Screws.Select(screw => screw.Name));
        Assert.Equal(800, scenario.Travel.StepsPerMmZ, 6);
    }

    [Theory]
    [InlineData("machine = \"wren-240\"\n[bed]\n  bwo_x_mm = 0.1", "s.toml:3:3: unknown key bed.bwo_x_mm; the nearest known one is bed.bow_x_mm")]
    [InlineData("[bed]\nbow_x_mm = \"big\"", "s.toml:2:1: bed.bow_x_mm is big; accepted is a number from -5 to 5")]
    [InlineData("[bed]\nbow_x_mm = 50", "s.toml:2:1: bed.bow_x_mm is 50; accepted is a number from -5 to 5")]
    [InlineData("[bed]\nbow_x_mm = nan", "s.toml:2:1: bed.bow_x_mm is NaN; accepted is a number from -5 to 5")]
    [InlineData("[controller]\nresend = \"again\"", "s.toml:2:1: controller.resend is again; accepted is one of \"Resend: n\", \"rs n\", \"rs Nn\"")]
    [InlineData("[mesh]\ncolumns = 4.5", "s.toml:2:1: mesh.columns is 4.5; accepted is a whole number from 2 to 50")]
    [InlineData("machine = \"wren\"", "s.toml:1:1: there is no simulated machine wren; known are heron-330, wren-240")]
    public void A_wrong_file_is_refused_with_place_fault_and_what_is_accepted(string text, string expected) =>
        Assert.Equal(expected, Assert.Throws<ScenarioException>(() => ScenarioFile.Parse(text, "s.toml")).Message);

    [Fact]
    public void Something_that_is_no_toml_is_refused_with_its_place() =>
        Assert.StartsWith("s.toml:1:", Assert.Throws<ScenarioException>(() => ScenarioFile.Parse("[bed", "s.toml")).Message, StringComparison.Ordinal);

    [Fact]
    public void A_missing_scenario_is_named_with_those_that_there_are() =>
        Assert.Contains("shipped are " + string.Join(", ", ScenarioFile.Shipped.Take(3)), Assert.Throws<ScenarioException>(() => ScenarioFile.Load("goood")).Message, StringComparison.Ordinal);

    [Fact]
    public void A_file_of_ones_own_is_read_from_its_path()
    {
        var path = Path.Combine(Path.GetTempPath(), Path.GetRandomFileName() + ".toml");
        File.WriteAllText(path, "machine = \"wren-240\"\nseed = 5\n[bed]\ntilt_x_mm = 1.5");
        try
        {
            Assert.Equal(1.5, ScenarioFile.Load(path).Bed.TiltXMm);
        }
        finally
        {
            File.Delete(path);
        }
    }
}
