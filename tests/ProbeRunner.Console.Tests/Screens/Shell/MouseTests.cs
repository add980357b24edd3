using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Pictures;
using ProbeRunner.Console.Screens.Running;
using ProbeRunner.Console.Screens.Shell;
using ProbeRunner.Console.Tests.Screens.Pictures;
using ProbeRunner.Console.Tests.Screens.Whole;
using ProbeRunner.Procedures.Operators;

namespace ProbeRunner.Console.Tests.Screens.Shell;

/// <summary>What is pointed at is what is written there: tests find the text on the drawn sheet and click on it.</summary>
public sealed class MouseTests
{
    private readonly CellCanvas canvas = new(120, 36);
    private readonly Desk desk = TestTerminal.Desk();

    [Fact]
    public async Task A_click_chooses_an_answer_and_a_second_one_gives_it()
    {
        var run = ScreenSamples.Running("preflight");
        desk.Open(new RunScreen(desk, run, () => { }));
        var asked = run.Ask(Prompts.YesNo("preflight.bed-clean", "Clean?", "Crumbs."));
        ClickOn("2 yes");
        Assert.False(asked.Answered.IsCompleted);
        ClickOn("2 yes");
        Assert.Equal("yes", (await asked.Answered).Value);
    }

    [Fact]
    public void A_click_on_a_page_of_the_results_turns_to_it()
    {
        ScreenSamples.All["results-findings"](desk);
        ClickOn("4 Steps");
        Assert.Contains(desk.Keys, entry => entry.Label == "scroll");
    }

    [Fact]
    public void A_click_on_an_open_finding_closes_it()
    {
        ScreenSamples.All["results-findings"](desk);
        ClickOn("Evidence:");
        Assert.DoesNotContain("Evidence:", Drawn(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_click_on_a_key_in_the_footer_is_that_key()
    {
        ScreenSamples.All["run-series"](desk);
        ClickOn("wire");
        Assert.IsType<WireScreen>(desk.Front);
    }

    [Theory]
    [InlineData("F5", "hold")]
    [InlineData("F7", "stop")]
    [InlineData("F9", "halt")]
    public void A_click_on_the_keys_that_stop_is_as_good_as_the_key(string key, string asked)
    {
        var run = new FakeRun();
        desk.Reins = run;
        ScreenSamples.All["confirm"](desk);
        ClickOn(key);
        Assert.Equal([asked], run.Asked);
    }

    [Fact]
    public void Beside_the_keys_a_click_does_nothing()
    {
        ScreenSamples.All["run-series"](desk);
        Assert.Null(DeskPicture.KeyAt(desk, canvas.Area, 0, 35));
        Assert.Null(DeskPicture.KeyAt(desk, canvas.Area, 119, 34));
        Assert.Null(DeskPicture.KeyAt(desk, canvas.Area, 5, 10));
    }

    [Fact]
    public void Where_text_is_typed_the_footer_names_keys_that_type_nothing()
    {
        ScreenSamples.All["run-number"](desk);
        var footer = Drawn().Split('\n')[34];
        Assert.Contains("F1 help", footer, StringComparison.Ordinal);
        Assert.DoesNotContain("? help", footer, StringComparison.Ordinal);
    }

    [Fact]
    public void A_place_of_a_map_is_found_where_it_is_drawn()
    {
        var map = (MapState)PictureSamples.All["map-finished"];
        var room = new Rect(3, 2, 80, 30);
        var cursor = MapPicture.PlaceAt(room, map, 30, 16)!.Value;
        Picture.Draw(canvas, room, map with { Cursor = cursor }, desk.Palette);
        Assert.Equal("┼", canvas[30, 16].Grapheme);
        Assert.Null(MapPicture.PlaceAt(room, map, 3, 2));
    }

    private string Drawn()
    {
        DeskPicture.Draw(canvas, desk);
        return canvas.ToText();
    }

    private void ClickOn(string text)
    {
        var lines = Drawn().Split('\n');
        var row = Array.FindIndex(lines, line => line.Contains(text, StringComparison.Ordinal));
        var column = lines[row].IndexOf(text, StringComparison.Ordinal);
        if (DeskPicture.KeyAt(desk, canvas.Area, column, row) is { } key)
        {
            desk.Press(key);
            return;
        }

        var room = DeskPicture.Room(canvas.Area);
        desk.Front.Click(column - room.Left, row - room.Top);
    }
}
