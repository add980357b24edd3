using System.Text.Json;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Records.Markup;
using ProbeRunner.Records.Runs;
using ProbeRunner.Records.Text;

namespace ProbeRunner.Records.Reports.Sections;

/// <summary>Which run, machine, controller and program this is about.</summary>
internal static class IdentitySection
{
    /// <summary>The section.</summary>
    public static Html Render(RunRecord run)
    {
        RunHeader header = run.Header;
        return Html.Of($"""
            <section aria-labelledby="identity"><h2 id="identity">Run</h2>
            <dl class="identity">
            <dt>Run</dt><dd>{header.RunId}</dd>
            <dt>Machine</dt><dd>{header.MachineName}{(run.IsSimulated ? " (simulated)" : string.Empty)}</dd>
            <dt>Script</dt><dd>{header.ScriptName}</dd>
            <dt>Started</dt><dd>{Figures.Moment(header.StartedAt)}</dd>
            <dt>Duration</dt><dd>{Figures.Duration(run.Duration)}</dd>
            <dt>Port</dt><dd>{header.PortIdentity}</dd>
            <dt>Controller</dt><dd>{ControllerOf(run)}</dd>
            <dt>Program</dt><dd>ProbeRunner {header.ProgramVersion}, seed {header.Seed.ToString(System.Globalization.CultureInfo.InvariantCulture)}</dd>
            <dt>Journal</dt><dd>{run.Entries.Length} rows, {(run.DamagedFrom is null ? "checksums verified" : "damaged at the end")}</dd>
            </dl>
            </section>
            """);
    }

    private static string ControllerOf(RunRecord run)
    {
        ControllerIdentity? controller = run.Conclusion<PreflightConclusion>()?.Controller ?? Parsed(run.Header.ControllerIdentity);
        return controller is null
            ? "did not say what it is"
            : string.Join(", ", new[] { controller.Firmware, controller.MachineName, controller.SerialNumber }.Where(text => text.Length > 0));
    }

    private static ControllerIdentity? Parsed(string json)
    {
        try
        {
            return json.Length == 0 ? null : JournalJson.Read<ControllerIdentity>(json);
        }
        catch (JsonException)
        {
            return null;
        }
    }
}
