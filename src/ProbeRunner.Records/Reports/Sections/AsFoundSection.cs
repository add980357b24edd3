using ProbeRunner.Machine.Touches;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Records.Markup;
using ProbeRunner.Records.Runs;
using ProbeRunner.Records.Text;

namespace ProbeRunner.Records.Reports.Sections;

/// <summary>The machine as the preflight found it, and the trials of heaters. Left out when the run had neither.</summary>
internal static class AsFoundSection
{
    /// <summary>The section.</summary>
    public static Html Render(RunRecord run) => (run.Conclusion<PreflightConclusion>(), run.Conclusion<HeaterTrialConclusion>()) is var (found, heaters) && (found ?? (StepConclusion?)heaters) is not null
        ? Html.Of($"""
            <section aria-labelledby="as-found"><h2 id="as-found">The machine as found</h2>
            {(found is null ? Html.Nothing : Found(found))}{(heaters is null ? Html.Nothing : Heaters(heaters))}
            </section>
            """)
        : Html.Nothing;

    private static Html Found(PreflightConclusion found) => Html.Of($"""
        <p>{Verdicts.Sentence(found.Verdict)}</p>
        <p>Probe offset {Figures.Signed(found.OffsetBefore.X, 2)}, {Figures.Signed(found.OffsetBefore.Y, 2)}, {Figures.SignedMm(found.OffsetBefore.Z)}; mesh correction {OnOff(found.MeshCorrectionOn)}; the controller’s own travel limits {OnOff(found.SoftLimitsOn)}{Limits(found)}. {Switches(found)}</p>
        """);

    private static string Limits(PreflightConclusion found) => found.Limits is { } limits
        ? FormattableString.Invariant($" (x {limits.Nozzle.MinX:0.#} to {limits.Nozzle.MaxX:0.#}, y {limits.Nozzle.MinY:0.#} to {limits.Nozzle.MaxY:0.#}, z {limits.LowestZ:0.#} to {limits.HighestZ:0.#} mm)")
        : string.Empty;

    private static string Switches(PreflightConclusion found) => found.Switches is { Count: > 0 } switches
        ? $"Switches: {string.Join(", ", switches.Select(one => $"{one.Key} {(one.Value == ProbeState.Triggered ? "triggered" : one.Value == ProbeState.Open ? "open" : "not reported")}"))}."
        : string.Empty;

    private static Html Heaters(HeaterTrialConclusion trial) => Html.Of($"""
        <p>{Verdicts.Sentence(trial.Verdict)}{string.Join(string.Empty, trial.Heaters.Select(heater => FormattableString.Invariant($" The {heater.Name} was at {heater.BeganCelsius:0.0} °C, at {heater.SwitchedOffCelsius:0.0} when switched off, and at {heater.HighestCelsius:0.0} at most afterwards.")))}</p>
        """);

    private static string OnOff(bool? on) => on switch { true => "on", false => "off", null => "not reported" };
}
