using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Records.Markup;
using ProbeRunner.Records.Runs;

namespace ProbeRunner.Records.Reports.Sections;

/// <summary>The levelling of a gantry with two Z drives. Left out when the run had no such step, or the machine has one drive.</summary>
internal static class GantryLevelSection
{
    /// <summary>The section.</summary>
    public static Html Render(RunRecord run) => run.Conclusion<GantryLevelConclusion>() is { } level
        ? Html.Of($"""
            <section aria-labelledby="gantry-level"><h2 id="gantry-level">Gantry on its blocks</h2>
            <p>{Verdicts.Sentence(level.Verdict)}</p>
            <p>Seen at each look: {string.Join(", ", level.Seen.Select(Words))}.</p>
            </section>
            """)
        : Html.Nothing;

    private static string Words(string seen) => seen switch
    {
        "left-off" => "left end off",
        "right-off" => "right end off",
        "both-rest" => "both rest",
        _ => "called off",
    };
}
