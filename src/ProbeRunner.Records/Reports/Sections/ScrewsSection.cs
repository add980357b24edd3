using ProbeRunner.Machine.Profiles;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Records.Markup;
using ProbeRunner.Records.Pictures;
using ProbeRunner.Records.Runs;
using ProbeRunner.Records.Text;

namespace ProbeRunner.Records.Reports.Sections;

/// <summary>The bed's screws: what was turned and how level it stands. Left out when the run had no such step.</summary>
internal static class ScrewsSection
{
    /// <summary>The section.</summary>
    public static Html Render(RunRecord run, MachineProfile? machine) => run.Conclusion<ScrewsConclusion>() is { Rounds.IsEmpty: false } screws
        ? Html.Of($"""
            <section aria-labelledby="screws"><h2 id="screws">Bed screws</h2>
            <p>{Verdicts.Sentence(screws.Verdict)}</p>
            <figure>{ScrewMap.Draw(screws, machine)}<figcaption>Seen from above, front edge below: all turns together, and the bed’s height above its mean at each screw, in mm, as found → in the end.</figcaption></figure>
            <div class="scroll">{Table(screws)}</div>
            </section>
            """)
        : Html.Nothing;

    private static Html Table(ScrewsConclusion screws) => Html.Of($"""
        <table><caption>Height above the mean in mm; below it the turns made just before, clockwise seen from above positive</caption>
        <thead><tr><th scope="col">Measured</th>{Html.Each(screws.Rounds[0].Screws, screw => Html.Of($"""<th scope="col" class="n">{screw.Name}</th>"""))}<th scope="col" class="n">middle</th><th scope="col" class="n">twist</th></tr></thead>
        <tbody>{Html.Each(screws.Rounds, Row)}</tbody></table>
        """);

    private static Html Row(ScrewRound round) => Html.Of($"""
        <tr><th scope="row">{round.Name}</th>{Html.Each(round.Screws, screw => Html.Of($"""<td class="n">{Figures.Signed(screw.HeightMm, 3)}<small>{(screw.TurnedBefore == 0 ? string.Empty : Figures.Signed(screw.TurnedBefore, 3))}</small></td>"""))}<td class="n">{Figures.Signed(round.BendMm, 3)}</td><td class="n">{Figures.Signed(round.TwistMm, 3)}</td></tr>
        """);
}
