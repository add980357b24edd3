using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Records.Markup;
using ProbeRunner.Records.Runs;
using ProbeRunner.Records.Text;

namespace ProbeRunner.Records.Reports.Sections;

/// <summary>How fast the probe may touch. Left out when the run had no such step.</summary>
internal static class TouchTuningSection
{
    /// <summary>The section.</summary>
    public static Html Render(RunRecord run) => run.Conclusion<TouchTuningConclusion>() is { } tuned
        ? Html.Of($"""
            <section aria-labelledby="touch-tuning"><h2 id="touch-tuning">Touch tuning</h2>
            <p>{Verdicts.Sentence(tuned.Verdict)}</p>
            <p>All touches at {Figures.Place(tuned.Place.X, tuned.Place.Y)}, in rounds that begin and end with the slow reference; {tuned.Conditions}. As good means: the mean differs by less than {Figures.Mm(tuned.MarginMm, 4)} and the scatter is below {Figures.Number(tuned.LargestRatio, 2)} times the reference’s, each at 5 % risk.</p>
            <div class="scroll"><table><caption>Ways of touching; the mean’s difference with its 90 % limits, the ratio of scatters by its upper 95 % limit</caption>
            <thead><tr><th scope="col" class="n">Feed, mm/min</th><th scope="col" class="n">Extra lift, mm</th><th scope="col" class="n">Touches</th><th scope="col" class="n">s, mm</th><th scope="col" class="n">Mean, mm</th><th scope="col" class="n">from … to</th><th scope="col" class="n">Ratio up to</th><th scope="col" class="n">Seconds</th><th scope="col">As good</th></tr></thead>
            <tbody>{Html.Each(tuned.Manners, Row)}</tbody></table></div>
            </section>
            """)
        : Html.Nothing;

    private static Html Row(TriedManner manner) => Html.Of($"""
        <tr><td class="n">{(manner.FeedMmPerMin > 0 ? Figures.Number(manner.FeedMmPerMin, 0) : "as found")}</td><td class="n">{Figures.Number(manner.ExtraLiftMm, 1)}</td><td class="n">{manner.Touches}</td><td class="n">{Figures.Number(manner.SigmaMm, 4)}</td><td class="n">{Figures.Signed(manner.DifferenceMm, 4)}</td><td class="n">{Figures.Signed(manner.DifferenceLowerMm, 4)} … {Figures.Signed(manner.DifferenceUpperMm, 4)}</td><td class="n">{Figures.Number(manner.RatioUpper, 2)}</td><td class="n">{Figures.Number(manner.SecondsPerTouch, 1)}</td><td>{manner.IsEquivalent switch { true => "yes", false => "not shown", null => "reference" }}</td></tr>
        """);
}
