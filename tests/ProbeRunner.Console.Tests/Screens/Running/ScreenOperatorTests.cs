using ProbeRunner.Console.Screens.Running;
using ProbeRunner.Procedures.Operators;

namespace ProbeRunner.Console.Tests.Screens.Running;

public sealed class ScreenOperatorTests
{
    private static readonly Prompt Clean = Prompts.YesNo("preflight.bed-clean", "Clean?", "Crumbs.");

    [Fact]
    public async Task A_question_waits_for_its_answer_and_is_gone_afterwards()
    {
        var changes = 0;
        var person = new ScreenOperator(null, TimeProvider.System, () => changes++);
        var asked = person.AskAsync(Clean, CancellationToken.None);
        Assert.Null(person.Pending!.Hint);
        person.Pending.Answer("yes");
        Assert.Equal("yes", (await asked).Value);
        Assert.Null(person.Pending);
        Assert.Equal(2, changes);
    }

    [Fact]
    public async Task A_closed_terminal_answers_nothing_any_more()
    {
        var person = new ScreenOperator(null, TimeProvider.System, () => { });
        var asked = person.AskAsync(Clean, CancellationToken.None);
        person.Close();
        await Assert.ThrowsAsync<OperatorGoneException>(() => asked);
        await Assert.ThrowsAsync<OperatorGoneException>(() => person.AskAsync(Clean, CancellationToken.None));
    }

    [Fact]
    public async Task A_question_that_the_engine_leaves_goes_from_the_screen()
    {
        var person = new ScreenOperator(null, TimeProvider.System, () => { });
        using var leave = new CancellationTokenSource();
        var asked = person.AskAsync(Clean, leave.Token);
        await leave.CancelAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => asked);
        Assert.Null(person.Pending);
    }

    [Fact]
    public async Task At_a_simulated_machine_the_question_says_what_hands_would_feel_and_may_answer_itself()
    {
        var person = new ScreenOperator(new Feels("drags"), TimeProvider.System, () => { });
        var asked = person.AskAsync(Clean, CancellationToken.None);
        Assert.Equal("drags", person.Pending!.Hint);
        person.Pending.Answer("no");
        await asked;
        person.AnswersItself = true;
        Assert.Equal("drags", (await person.AskAsync(Clean, CancellationToken.None)).Value);
    }

    private sealed class Feels(string word) : IOperator
    {
        public bool IsPresent => true;

        public Task<Answer> AskAsync(Prompt prompt, CancellationToken cancel) => Task.FromResult(new Answer(word));
    }
}
