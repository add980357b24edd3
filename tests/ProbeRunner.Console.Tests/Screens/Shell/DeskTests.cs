using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Keys;
using ProbeRunner.Console.Screens.Running;
using ProbeRunner.Console.Screens.Shell;
using ProbeRunner.Console.Tests.Screens.Whole;
using ProbeRunner.Procedures.Operators;

namespace ProbeRunner.Console.Tests.Screens.Shell;

public sealed class DeskTests
{
    public static TheoryData<string> Names => [.. ScreenSamples.All.Keys];

    [Theory]
    [MemberData(nameof(Names))]
    public void Hold_stop_and_halt_work_on_every_screen(string name)
    {
        var desk = TestTerminal.Desk();
        ScreenSamples.All[name](desk);
        var run = new FakeRun();
        desk.Reins = run;
        desk.Press(SafetyKeys.Hold);
        desk.Press(SafetyKeys.HoldToo);
        desk.Press(SafetyKeys.Stop);
        desk.Press(SafetyKeys.StopOrQuit);
        desk.Press(SafetyKeys.Halt);
        desk.Press(SafetyKeys.HaltToo);
        Assert.Equal(["hold", "hold", "stop", "stop", "halt", "halt"], run.Asked);
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Esc_goes_back_and_never_leaves_the_program(string name)
    {
        var desk = TestTerminal.Desk();
        ScreenSamples.All[name](desk);
        var quits = 0;
        desk.QuitAsked += () => quits++;
        for (var press = 0; press < 6; press++)
        {
            desk.Press(Stroke.Escape);
        }

        Assert.Equal(0, quits);
        Assert.True(!desk.CanGoBack || (desk.Front is RunScreen && desk.Reins.IsUnderWay));
    }

    [Fact]
    public void Ctrl_C_leaves_the_program_while_nothing_is_under_way()
    {
        var desk = TestTerminal.Desk();
        ScreenSamples.All["start"](desk);
        var quits = 0;
        desk.QuitAsked += () => quits++;
        desk.Press(SafetyKeys.StopOrQuit);
        Assert.Equal(1, quits);
    }

    [Fact]
    public void Ctrl_C_while_the_machine_is_under_way_asks_to_stop_and_again_within_three_seconds_halts()
    {
        var desk = TestTerminal.Desk();
        ScreenSamples.All["start"](desk);
        var run = new FakeRun();
        var quits = 0;
        desk.Reins = run;
        desk.QuitAsked += () => quits++;
        desk.Press(SafetyKeys.StopOrQuit);
        desk.Press(SafetyKeys.StopOrQuit);
        Assert.Equal(["stop", "halt"], run.Asked);
        Assert.Equal(0, quits);
    }

    [Fact]
    public void What_is_said_of_a_halt_stays_when_the_hold_it_ended_is_over()
    {
        var desk = TestTerminal.Desk();
        var run = ScreenSamples.Series(4);
        desk.Reins = run;
        desk.Open(new RunScreen(desk, run, () => { }));
        run.IsHeld = true;
        run.Tell();
        desk.Press(SafetyKeys.Halt);
        run.IsHeld = false;
        run.Tell();
        Assert.Equal("halt asked for", desk.Notice!.Text);
    }

    [Fact]
    public void What_a_stop_was_to_do_is_not_said_any_more_once_the_run_is_over()
    {
        var desk = TestTerminal.Desk();
        var run = ScreenSamples.Series(4);
        desk.Reins = run;
        desk.Open(new RunScreen(desk, run, () => { }));
        desk.Press(SafetyKeys.Stop);
        Assert.Equal("stop asked for", desk.Notice!.Text);
        run.IsUnderWay = false;
        run.Tell();
        Assert.Null(desk.Notice);
    }

    [Fact]
    public void The_program_is_not_left_while_a_run_is_under_way_and_says_why()
    {
        var desk = TestTerminal.Desk();
        ScreenSamples.All["start"](desk);
        desk.Reins = new FakeRun();
        desk.Press(Stroke.Control('q'));
        Assert.Contains("Stop it first", desk.Notice!.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_key_that_can_do_nothing_now_says_why()
    {
        var desk = TestTerminal.Desk();
        ScreenSamples.All["start-empty"](desk);
        desk.Press(Stroke.Enter);
        Assert.Contains("machine", desk.Notice!.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Letters_typed_into_a_field_are_no_keys()
    {
        var desk = TestTerminal.Desk();
        ScreenSamples.All["run-number"](desk);
        foreach (var letter in "4q?m")
        {
            desk.Press(letter);
        }

        Assert.IsType<RunScreen>(desk.Front);
        var canvas = new CellCanvas(80, 24);
        DeskPicture.Draw(canvas, desk);
        Assert.Contains("4q?m", canvas.ToText(), StringComparison.Ordinal);
    }

    [Fact]
    public void The_command_list_finds_a_command_by_a_part_of_what_it_does()
    {
        var desk = TestTerminal.Desk();
        ScreenSamples.All["run-series"](desk);
        desk.Press(Stroke.Function(2));
        foreach (var letter in "wire")
        {
            desk.Press(letter);
        }

        desk.Press(Stroke.Enter);
        Assert.IsType<WireScreen>(desk.Front);
    }

    [Fact]
    public void A_confirmation_of_clear_hands_takes_no_key_in_its_first_moments()
    {
        var desk = TestTerminal.Desk();
        var run = ScreenSamples.Running("preflight");
        desk.Open(new RunScreen(desk, run, () => { }));
        var question = new AskedQuestion(Prompts.HandsClear("home.hands-clear", "Hands clear?"), null, TimeProvider.System.GetTimestamp());
        run.Question = question;
        run.Tell();
        desk.Press(Stroke.Enter);
        DeskPicture.Draw(new CellCanvas(80, 24), desk);
        desk.Press(Stroke.Enter);
        Assert.False(question.Answered.IsCompleted);
    }

    [Fact]
    public async Task Enter_gives_the_safe_first_answer_and_a_digit_gives_its_own()
    {
        var desk = TestTerminal.Desk();
        var run = ScreenSamples.Running("preflight");
        desk.Open(new RunScreen(desk, run, () => { }));
        var first = run.Ask(Prompts.YesNo("preflight.bed-clean", "Clean?", "Crumbs."));
        DeskPicture.Draw(new CellCanvas(80, 24), desk);
        desk.Press(Stroke.Enter);
        Assert.Equal("no", (await first.Answered).Value);
        var second = run.Ask(Prompts.YesNo("preflight.bed-clean", "Clean?", "Crumbs."));
        DeskPicture.Draw(new CellCanvas(80, 24), desk);
        desk.Press('2');
        Assert.Equal("yes", (await second.Answered).Value);
    }
}
