using ProbeRunner.Records.Markup;
using ProbeRunner.Records.Runs;
using ProbeRunner.Records.Text;

namespace ProbeRunner.Records.Reports.Sections;

/// <summary>Every reading, prompt and answer, folded away.</summary>
internal static class ReadingsSection
{
    /// <summary>The section.</summary>
    public static Html Render(RunRecord run) => Html.Of($"""
        <section aria-labelledby="record"><h2 id="record">Record</h2>
        {Html.Each(run.Steps, Step)}
        {Prompts(run)}
        </section>
        """);

    private static Html Step(StepRecord step)
    {
        string verdict = step.Conclusion is { } conclusion ? Verdicts.Sentence(conclusion.Verdict)
            : step.EndedAt is null ? "Did not end." : "Came to no conclusion that this version can read.";
        Html readings = step.Readings.IsEmpty ? Html.Nothing : Html.Of($"""
            <details><summary>{step.Readings.Length} readings</summary><div class="scroll"><table>
            <thead><tr><th scope="col" class="n">Row</th><th scope="col" class="n">X, mm</th><th scope="col" class="n">Y, mm</th><th scope="col" class="n">Z, mm</th><th scope="col" class="n">Epoch</th><th scope="col" class="n">After, s</th><th scope="col">Remark</th></tr></thead>
            <tbody>{Html.Each(step.Readings, Row)}</tbody></table></div></details>
            """);
        return Html.Of($"""<h3>{step.Index + 1}. {step.Title}</h3><p class="sub">{verdict}</p>{readings}""");
    }

    private static Html Row(ReadingRecord item) => Html.Of(
        $"""<tr{new Html(item.Voided ? " class=\"voided\"" : string.Empty)}><td class="n">{item.Ordinal}</td><td class="n">{item.Reading.Place.X:0.00}</td><td class="n">{item.Reading.Place.Y:0.00}</td><td class="n">{Figures.Signed(item.Reading.Z, 4)}</td><td class="n">{item.Reading.DatumEpoch}</td><td class="n">{item.At.TotalSeconds:0.0}</td><td>{(item.Voided ? "taken again, does not count" : item.Reading.Suspect ? "needed a second touch" : string.Empty)}</td></tr>""");

    private static Html Prompts(RunRecord run) => run.Prompts.IsEmpty ? Html.Nothing : Html.Of($"""
        <h3>Questions and answers</h3><details><summary>{run.Prompts.Length} questions</summary><div class="scroll"><table>
        <thead><tr><th scope="col" class="n">Row</th><th scope="col">Question</th><th scope="col">Answer</th></tr></thead>
        <tbody>{Html.Each(run.Prompts, item => Html.Of($"""<tr><td class="n">{item.Ordinal}</td><td>{item.Prompt.Text}</td><td>{item.Answer}</td></tr>"""))}</tbody></table></div></details>
        """);
}
