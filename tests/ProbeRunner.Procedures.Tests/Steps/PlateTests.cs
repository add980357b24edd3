using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Events;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Scripts;
using ProbeRunner.Procedures.Steps.CheckAgain;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Procedures.Tests.Steps;

public sealed class PlateTests
{
    private const string SmallGrid = "do = \"grid\"\ncolumns = 3\nrows = 3\ntouches = 1";

    [Fact]
    public void It_is_asked_once_a_run_and_kept_with_everything_that_belongs_to_it() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        bench.Person.Answers[PromptIds.Plate] = "textured";

        await bench.RunAsync(TestBench.Script("commission"));

        Assert.Single(bench.Person.Asked, id => id == PromptIds.Plate);
        StepConclusion[] kept = [bench.Conclusion<CaptureConclusion>(), bench.Conclusion<StepDownConclusion>(), bench.Conclusion<VerifyConclusion>()];
        Assert.All(kept, conclusion => Assert.Equal("textured", conclusion.TakenUnder!.Plate));
        Assert.Contains("plate \"textured\"", bench.Conclusion<CaptureConclusion>().Conditions, StringComparison.Ordinal);
        Assert.Contains("plate \"textured\"", bench.Conclusion<StepDownConclusion>().Conditions, StringComparison.Ordinal);
    });

    [Fact]
    public void One_that_was_stated_is_not_asked_and_another_than_the_last_is_warned_of() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);

        await bench.RunAsync(Script("plate=textured", PlateOnBed.LastParameter("smooth")));

        Assert.DoesNotContain(PromptIds.Plate, bench.Person.Asked);
        Assert.Equal("textured", bench.Conclusion<CaptureConclusion>().TakenUnder!.Plate);
        Assert.Contains(bench.Events.OfType<Warned>(), warned => warned.Text.Contains("now textured lies on the bed", StringComparison.Ordinal));
    });

    [Fact]
    public void The_last_one_is_offered_and_the_same_one_is_no_reason_to_warn() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        Prompt? asked = null;
        bench.Person.Before = prompt =>
        {
            asked = prompt.Id == PromptIds.Plate ? prompt : asked;
            return Task.CompletedTask;
        };

        await bench.RunAsync(Script(PlateOnBed.LastParameter("smooth")));

        Assert.Equal("smooth", asked!.Usual);
        Assert.Contains("Enter alone stands for smooth", asked.Text, StringComparison.Ordinal);
        Assert.DoesNotContain(bench.Events.OfType<Warned>(), warned => warned.Text.Contains("lies on the bed", StringComparison.Ordinal));
    });

    [Fact]
    public void With_nobody_there_it_stays_open_and_the_capture_goes_on() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        bench.Person.IsPresent = false;

        RunOutcome outcome = await bench.RunAsync(TestBench.Steps("do = \"first-lift\"\nconfirm = false", "home", SmallGrid));

        Assert.True(outcome is RunOutcome.Completed, outcome.Why);
        Assert.Equal(string.Empty, bench.Conclusion<CaptureConclusion>().TakenUnder!.Plate);
    });

    [Fact]
    public void A_bed_checked_on_another_plate_is_not_called_moved() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");
        await bench.RunAsync(TestBench.Steps("first-lift", "home", "do = \"grid\"\ncolumns = 5\nrows = 5"));
        CaptureConclusion capture = bench.Conclusion<CaptureConclusion>();
        var earlier = new EarlierCapture("a-run", EarlierCapture.Taken(capture.Readings), [], null, null, null) { Plate = capture.TakenUnder!.Plate };
        await bench.Host.AskAsync("lay plate textured");
        await bench.Host.AskAsync("turn screw back right 0.4");

        var journal = new MemoryJournal(99); // another day: a run of its own
        await new RunEngine(bench.Printer, bench.Person, journal, RunScript.ForStep("check-again", earlier.Parameters()), time, new RunOptions("0.1", Simulated: true)).RunAsync();

        CheckAgainConclusion check = journal.Entries.Where(entry => entry.Kind == EntryKind.StepEnded)
            .Select(entry => JournalJson.Read<StepConclusion>(entry.Reply)).OfType<CheckAgainConclusion>().Single();
        Assert.Equal("check-again.other-plate", check.Findings[0].Id);
        Assert.Equal("Then smooth, now textured.", check.Findings[0].Evidence);
        Assert.True(check.Verdict.State == VerdictWord.Undecided, check.Verdict.Reason);
    });

    [Theory]
    [InlineData("plate=12", "12")]
    [InlineData("plate = spring steel", "spring steel")]
    [InlineData("plate=\"smooth\"", "smooth")]
    public void A_name_on_the_command_line_is_text_whatever_it_looks_like(string set, string name)
    {
        RunScript script = RunScript.ForStep("grid", [set]);

        Assert.Equal(name, script.Plate.Stated);
        Assert.Equal(name, RunScript.Parse(script.Text, "again").Plate.Stated);
    }

    private static RunScript Script(params string[] set) =>
        RunScript.Parse($"title = \"test\"\n[[step]]\ndo = \"first-lift\"\n[[step]]\ndo = \"home\"\n[[step]]\n{SmallGrid}\n", "test", set);
}
