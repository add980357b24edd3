using ProbeRunner.Machine.Toml;
using ProbeRunner.Procedures.Operators;

namespace ProbeRunner.Procedures.Tests.Operators;

public sealed class AnswersFileOperatorTests
{
    private static readonly Prompt Clean = Prompts.YesNo(PromptIds.BedClean, "clean?", "why");

    [Fact]
    public async Task A_list_is_used_up_in_order_and_a_further_question_is_an_error()
    {
        var person = AnswersFileOperator.Parse("[answers]\n\"preflight.bed-clean\" = [\"no\", \"yes\"]\n", "a.toml");

        Assert.Equal("no", (await person.AskAsync(Clean, default)).Value);
        Assert.Equal("preflight.bed-clean", Assert.Single(person.LeftOver));
        Assert.Equal("yes", (await person.AskAsync(Clean, default)).Value);
        Assert.Empty(person.LeftOver);
        await Assert.ThrowsAsync<OperatorGoneException>(() => person.AskAsync(Clean, default));
    }

    [Fact]
    public async Task A_question_without_an_answer_names_the_words_it_takes()
    {
        var person = AnswersFileOperator.Parse("[answers]\n", "a.toml");

        OperatorGoneException gone = await Assert.ThrowsAsync<OperatorGoneException>(() => person.AskAsync(Clean, default));

        Assert.Contains("preflight.bed-clean", gone.Message, StringComparison.Ordinal);
        Assert.Contains("no, yes", gone.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_answer_that_does_not_fit_its_question_is_an_error()
    {
        var person = AnswersFileOperator.Parse("[answers]\n\"preflight.bed-clean\" = \"perhaps\"\n", "a.toml");

        await Assert.ThrowsAsync<OperatorGoneException>(() => person.AskAsync(Clean, default));
    }

    [Fact]
    public async Task Acknowledgements_need_no_entry()
    {
        var person = AnswersFileOperator.Parse("[answers]\n", "a.toml");

        Assert.Equal(Answer.Continue, (await person.AskAsync(Prompts.HandsClear("home.hands-clear", "?"), default)).Value);
    }

    [Fact]
    public void A_number_where_words_belong_is_a_fault_with_its_place() =>
        Assert.Contains("a.toml:2", Assert.Throws<FileFaultException>(() => AnswersFileOperator.Parse("[answers]\n\"x.y\" = 3\n", "a.toml")).Message, StringComparison.Ordinal);
}
