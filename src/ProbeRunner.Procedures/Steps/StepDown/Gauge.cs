using ProbeRunner.Metrology.Budgets;
using ProbeRunner.Metrology.Results;
using ProbeRunner.Procedures.Operators;

namespace ProbeRunner.Procedures.Steps.StepDown;

/// <summary>What lies between nozzle and bed.</summary>
/// <param name="Word">"paper" or "feeler gauge".</param>
/// <param name="ThicknessMm">How thick it is, mm.</param>
/// <param name="StandardUncertaintyMm">How well that is known, mm.</param>
/// <param name="Basis">How it is known, in words.</param>
internal sealed record Gauge(string Word, double ThicknessMm, double StandardUncertaintyMm, string Basis)
{
    public const string Paper = "paper";
    public const string Feeler = "feeler gauge";

    /// <summary>Office paper of 80 g/m2, mm: common practice, no source.</summary>
    public const double DefaultMm = 0.10;

    /// <summary>How far office paper may be off, mm: half width of a rectangular distribution; common practice, no source.</summary>
    public const double DefaultHalfWidthMm = 0.01;

    /// <summary>How far a feeler gauge may be off what stands on it, mm: half width of a rectangular distribution; from memory.</summary>
    public const double FeelerHalfWidthMm = 0.003;

    /// <summary>In a sentence.</summary>
    public string Described => FormattableString.Invariant($"{Word} of {ThicknessMm:0.000} mm, standard uncertainty {StandardUncertaintyMm:0.0000} mm ({Basis})");

    /// <summary>From the parameters; what they don't say the person is asked.</summary>
    public static async Task<Gauge> OfAsync(StepContext context, StepDownParameters parameters)
    {
        if (parameters.PaperMm is { } stated)
        {
            return Within(parameters.GaugeWord, stated, parameters.PaperHalfWidthMm, "as stated");
        }

        string chosen = parameters.GaugeWord == Feeler ? "feeler" : (await context.AskAsync(Prompts.Choose(
            PromptIds.StepDownGauge,
            "What will you slide under the nozzle, and how thick is it?",
            "Its thickness goes into the offset, and so does what is not known of it. A caliper over ten sheets halves the doubt; a feeler gauge leaves almost none, but takes a light hand on glass.",
            ("default", "office paper, not measured: 0.10 mm within 0.01 mm"),
            ("stack", "paper: I measured a stack of it with a caliper; you are asked for the count and the total"),
            ("feeler", "a feeler gauge with its thickness on it; you are asked for that")))).Value;
        return chosen switch
        {
            "stack" => await StackAsync(context),
            "feeler" => Within(Feeler, await NumberAsync(context, PromptIds.StepDownFeelerMm, "What thickness stands on the feeler gauge?", "mm", 0.03, 0.5), FeelerHalfWidthMm, "as marked on it"),
            _ => Within(Paper, DefaultMm, DefaultHalfWidthMm, "usual office paper, not measured"),
        };
    }

    private static async Task<Gauge> StackAsync(StepContext context)
    {
        double sheets = await NumberAsync(context, PromptIds.StepDownStackCount, "How many sheets are in the stack? Ten or more of the same paper make it good.", "sheets", 5, 500);
        double total = await NumberAsync(context, PromptIds.StepDownStackMm, "How thick is the stack, pressed lightly together by the caliper?", "mm", 0.2, 100);
        Answer<StackThickness> stack = StackThickness.Of((int)Math.Round(sheets), total);
        double sheet = total / Math.Round(sheets);
        return stack is Known<StackThickness> { Content: var known } && sheet is >= 0.03 and <= 0.5
            ? new Gauge(Paper, known.SheetMm, known.StandardUncertaintyMm, FormattableString.Invariant($"{Math.Round(sheets):0} sheets measured as {total:0.00} mm"))
            : throw new StepFailedException(FormattableString.Invariant($"{sheets:0} sheets of {total:0.00} mm make {sheet:0.000} mm a sheet, which is no paper (0.03 to 0.5 mm). Nothing has moved for the test. Measure the stack again, then resume or run the step again."));
    }

    private static async Task<double> NumberAsync(StepContext context, string id, string text, string unit, double lowest, double highest)
    {
        Operators.Answer answer = await context.AskAsync(new Prompt(id, PromptKind.Number, text, "It is used as the thickness between nozzle and bed.", [], unit, lowest, highest));
        return AnswerCheck.NumberOf(answer)!.Value;
    }

    private static Gauge Within(string word, double thicknessMm, double halfWidthMm, string basis) =>
        new(word, thicknessMm, new RectangularDistribution(thicknessMm, halfWidthMm).StandardDeviation, basis);
}
