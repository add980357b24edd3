using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Records.Markup;
using ProbeRunner.Records.Pictures;
using ProbeRunner.Records.Runs;
using ProbeRunner.Records.Text;

namespace ProbeRunner.Records.Reports.Sections;

/// <summary>The probe: its self-check and how well it repeats.</summary>
internal static class ProbeSection
{
    /// <summary>The section.</summary>
    public static Html Render(RunRecord run, MachineProfile? machine) => Html.Of($"""
        <section aria-labelledby="probe"><h2 id="probe">Probe</h2>
        {SelfCheck(run)}
        {(run.Conclusion<TouchReportConclusion>() is { } report ? Html.Of($"<p>Touch reports: {Verdicts.Sentence(report.Verdict)}</p>") : Html.Nothing)}
        {(run.Conclusion<SeriesConclusion>() is { Readings.IsEmpty: false } series ? Found(series, machine) : Html.Of($"""<p class="missing">{Verdicts.WhyMissing(run, "The probe’s repeatability")}</p>"""))}
        </section>
        """);

    private static Html SelfCheck(RunRecord run) => run.Conclusion<SelfCheckConclusion>() is { } check
        ? Html.Of($"<p>In the air it was tried {check.Cycles} times with {check.Faults} faults; a trigger by hand {Descent(check)}. {Verdicts.Sentence(check.Verdict)}</p>{Looks(check)}")
        : Html.Of($"""<p class="missing">{Verdicts.WhyMissing(run, "The probe’s self-check")}</p>""");

    private static string Descent(SelfCheckConclusion check) => check switch
    {
        { TriggerStoppedDescent: true, DescentSeconds: > 0 } => FormattableString.Invariant($"stopped the descent, which with its second approach took {check.DescentSeconds:0.0} s"),
        { TriggerStoppedDescent: true } => "stopped the descent",
        { DescentSeconds: > 0 } => "did not stop the descent",
        _ => "was not tried on a descent",
    };

    private static Html Looks(SelfCheckConclusion check) => check.Looks is { Count: > 0 } looks
        ? Html.Of($"""
            <p>{(check.ExtendSeconds > 0 ? FormattableString.Invariant($"It came out in {check.ExtendSeconds:0.00} s on average, {check.LongestExtendSeconds:0.00} s at most. ") : string.Empty)}What its switch read, and how often:</p>
            <div class="scroll"><table><thead><tr><th scope="col">When</th><th scope="col">Read</th><th scope="col" class="n">Times</th></tr></thead>
            <tbody>{Html.Each(looks, look => Html.Of($"""<tr><td>{look.Moment}</td><td>{State(look.State)}</td><td class="n">{look.Count}</td></tr>"""))}</tbody></table></div>
            """)
        : Html.Nothing;

    private static string State(ProbeState state) => state switch { ProbeState.Triggered => "triggered", ProbeState.Open => "open", _ => "not reported" };

    private static Html Found(SeriesConclusion series, MachineProfile? machine)
    {
        string limits = machine is null
            ? string.Empty
            : $" A probe with s up to {Figures.Mm(machine.Probe.GoodSigmaMm)} counts as good, from {Figures.Mm(machine.Probe.BadSigmaMm)} on as bad.";
        return Html.Of($"""
            <p>{Verdicts.Sentence(series.Verdict)}</p>
            <p>{series.Readings.Length} readings at {Figures.Place(series.Place.X, series.Place.Y)}: mean {Figures.Mm(series.MeanMm, 4)}, standard deviation s = {Figures.Mm(series.SigmaMm, 4)}; with {Figures.Percent(series.SigmaConfidence)} confidence it lies between {Figures.Number(series.SigmaLowerMm, 4)} and {Figures.Mm(series.SigmaUpperMm, 4)}.{limits}</p>
            <figure class="scroll">{SeriesPlot.Draw(series)}<figcaption>Readings in order, as deviations from their mean; ×: beyond three standard deviations, or needed a second touch.</figcaption></figure>
            {Parts(series)}
            """);
    }

    private static Html Parts(SeriesConclusion series) => series.Parts is { Count: > 0 } parts
        ? Html.Of($"<p>Where the scatter comes from (standard deviations with 95 % limits): {string.Join("; ", parts.Select(part => $"{part.Source} {Figures.Mm(part.SigmaMm, 4)} ({Figures.Number(part.LowerMm, 4)} to {Figures.Number(part.UpperMm, 4)})"))}.</p>")
        : Html.Of($"");
}
