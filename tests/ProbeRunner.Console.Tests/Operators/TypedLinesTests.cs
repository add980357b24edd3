using ProbeRunner.Console.Operators;
using ProbeRunner.Procedures.Operators;

namespace ProbeRunner.Console.Tests.Operators;

/// <summary>Answers and nudges, typed or piped in by the same lines.</summary>
public sealed class TypedLinesTests
{
    private static readonly Prompt Question = Prompts.YesNo("test.question", "Is it?", "To know.");

    [Fact]
    public async Task A_nudge_is_no_answer_and_without_a_run_it_goes_nowhere()
    {
        var told = new StringWriter();
        var person = new PlainPrompts(new StringReader("closer\nyes\n"), told);

        // Nothing is being laid, so the word is left to the question, which does not know it.
        Answer answer = await person.AskAsync(Question, CancellationToken.None);

        Assert.Equal("yes", answer.Value);
        Assert.Contains("Please answer", told.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_question_that_was_given_up_leaves_the_next_line_to_the_next_question()
    {
        using var slow = new SlowReader();
        var person = new PlainPrompts(slow, TextWriter.Null);
        using var cancel = new CancellationTokenSource();
        Task<Answer> givenUp = person.AskAsync(Question, cancel.Token);
        await cancel.CancelAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => givenUp);

        Task<Answer> asked = person.AskAsync(Question, CancellationToken.None);
        slow.Type("no");

        Assert.Equal("no", (await asked).Value);
    }

    [Fact]
    public async Task When_the_lines_end_nobody_can_answer() =>
        await Assert.ThrowsAsync<OperatorGoneException>(() => new JsonPrompts(new StringReader(""), TextWriter.Null).AskAsync(Question, CancellationToken.None));

    [Theory]
    [InlineData("{\"id\":\"test.question\",\"answer\":\"yes\"}", "yes")]
    [InlineData("not json\n[1]\n{\"nudge\":\"sideways\"}\n{\"id\":\"other\",\"answer\":\"yes\"}\n{\"id\":\"test.question\",\"answer\":\"no\"}", "no")]
    public async Task Json_lines_that_are_no_answer_are_said_to_be_none(string lines, string expected) =>
        Assert.Equal(expected, (await new JsonPrompts(new StringReader(lines), TextWriter.Null).AskAsync(Question, CancellationToken.None)).Value);

    /// <summary>A terminal at which nothing has been typed yet.</summary>
    private sealed class SlowReader : TextReader
    {
        private readonly System.Collections.Concurrent.BlockingCollection<string> typed = [];

        public void Type(string line) => typed.Add(line);

        public override string? ReadLine() => typed.TryTake(out var line, Timeout.Infinite) ? line : null;

        protected override void Dispose(bool disposing)
        {
            typed.CompleteAdding();
            base.Dispose(disposing);
        }
    }
}
