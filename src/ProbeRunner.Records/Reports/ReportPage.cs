using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Records.Comparisons;
using ProbeRunner.Records.Markup;
using ProbeRunner.Records.Reports.Sections;
using ProbeRunner.Records.Runs;
using ProbeRunner.Records.Store;
using ProbeRunner.Records.Text;

namespace ProbeRunner.Records.Reports;

/// <summary>
/// The report of a run as one HTML file that asks nothing from outside: no script, no font, no picture of its own. What is missing is
/// said, with the reason.
/// </summary>
public static class ReportPage
{
    /// <summary>Renders a run of a store, beside the machine's capture before it.</summary>
    /// <param name="store">Where the run is kept.</param>
    /// <param name="run">The run.</param>
    public static string Render(RunStore store, RunRecord run) => Render(run, LastCapture.ComparedWith(store, run));

    /// <summary>Renders a run, however far it came.</summary>
    /// <param name="run">The run.</param>
    /// <param name="sinceLastCapture">What changed since this bed was captured before; null when it wasn't, or nobody looked.</param>
    public static string Render(RunRecord run, RunComparison? sinceLastCapture = null)
    {
        ArgumentNullException.ThrowIfNull(run);
        MachineProfile? machine = ProfileOf(run.Header);
        string title = $"{machine?.Title ?? run.Header.MachineName} \u2013 {run.Header.ScriptName}";
        return Html.Of($"""
            <!doctype html>
            <html lang="en">
            <head>
            <meta charset="utf-8">
            <meta name="viewport" content="width=device-width, initial-scale=1">
            <meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
            <meta name="color-scheme" content="light dark">
            <title>{title} – {run.Header.RunId}</title>
            <style>{new Html(PageStyle.Css)}</style>
            </head>
            <body>
            <header>
            <h1>{title}</h1>
            <p class="sub">Run {run.Header.RunId} · {Figures.Moment(run.Header.StartedAt)} · {Figures.Duration(run.Duration)}{(run.IsSimulated ? " · simulated machine" : string.Empty)}</p>
            </header>
            <main>
            {VerdictSection.Render(run)}
            {KeyFigures.Render(run)}
            {FindingsSection.Render(run)}
            {OffsetSection.Render(run)}
            {GantryLevelSection.Render(run)}
            {LeanSection.Render(run)}
            {ScrewsSection.Render(run, machine)}
            {BedSection.Render(run, machine)}
            {SinceLastCaptureSection.Render(sinceLastCapture)}
            {MeshSection.Render(run)}
            {ProbePlaceSection.Render(run)}
            {FirstLayerSection.Render(run)}
            {ProbeSection.Render(run, machine)}
            {TouchTuningSection.Render(run)}
            {WarmUpSection.Render(run)}
            {CheckAgainSection.Render(run)}
            {AsFoundSection.Render(run)}
            {SettingsSection.Render(run)}
            {ConditionsSection.Render(run)}
            {CautionsSection.Render()}
            {ReadingsSection.Render(run)}
            {IdentitySection.Render(run)}
            </main>
            <footer>Lengths in mm, in bed coordinates: origin at the plate’s front-left corner, X to the right, Y to the back. Written by ProbeRunner {run.Header.ProgramVersion}.</footer>
            </body>
            </html>
            """).Code;
    }

    private static MachineProfile? ProfileOf(RunHeader header)
    {
        try
        {
            return ProfileReader.Read(TomlFile.Parse(header.ProfileText, header.MachineName));
        }
        catch (FileFaultException)
        {
            // A profile of another version: the pictures do without plate, clips and screws.
            return null;
        }
    }
}
