using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Records.Markup;
using ProbeRunner.Records.Pictures;
using ProbeRunner.Records.Runs;
using ProbeRunner.Records.Text;

namespace ProbeRunner.Records.Reports.Sections;

/// <summary>How the machine settled while it warmed. Left out when the run had no such step.</summary>
internal static class WarmUpSection
{
    /// <summary>The section.</summary>
    public static Html Render(RunRecord run) => run.Conclusion<WarmUpConclusion>() is { Points.IsEmpty: false } warm
        ? Html.Of($"""
            <section aria-labelledby="warm-up"><h2 id="warm-up">Warm-up</h2>
            <p>{Verdicts.Sentence(warm.Verdict)}</p>
            <p>At {Figures.Place(warm.Place.X, warm.Place.Y)}, hot {Figures.Number(warm.HotAtSeconds / 60, 1)} minutes after the heaters went on: the height moved by {Figures.SignedMm(warm.MovedMm)} in all. {TimeConstant(warm.Curve)}{(warm.WaitNextTimeMinutes is { } wait ? FormattableString.Invariant($"Wait next time: {wait} minutes from hot on. ") : string.Empty)}{warm.Conditions}.</p>
            <figure class="scroll">{WarmUpPlot.Draw(warm)}<figcaption>Touches in order against the height that is approached; +: before both heaters stood at their targets, not counted. Band: what may remain.</figcaption></figure>
            </section>
            """)
        : Html.Nothing;

    private static string TimeConstant(SettlingCurve? curve) => curve is null
        ? "The touches bend towards no end, so no time constant is given. "
        : FormattableString.Invariant($"Time constant {curve.TimeConstantSeconds:0} s, between {curve.TimeConstantLowerSeconds:0} and {curve.TimeConstantUpperSeconds:0} s with 95 % confidence. ");
}
