using System.Collections.Immutable;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Records.Markup;
using ProbeRunner.Records.Runs;

namespace ProbeRunner.Records.Reports.Sections;

/// <summary>The controller's settings before and after, and the line for the slicer.</summary>
internal static class SettingsSection
{
    /// <summary>The section.</summary>
    public static Html Render(RunRecord run)
    {
        SettingsConclusion? settings = run.Conclusion<SettingsConclusion>();
        ImmutableArray<ChangedSetting> changes = settings?.Changes ?? [.. run.Changes.Select(change => change.Change)];
        Html missing = settings is null ? Html.Of($"""<p class="missing">{Verdicts.WhyMissing(run, "The report of settings after the run")}</p>""") : Html.Nothing;
        return Html.Of($"""
            <section aria-labelledby="settings"><h2 id="settings">Controller settings</h2>
            {missing}{Changes(changes, run.Outcome is null)}
            {StartCode(settings)}
            {All(run, settings)}
            </section>
            """);
    }

    private static Html Changes(ImmutableArray<ChangedSetting> changes, bool open) => changes.IsEmpty
        ? Html.Of($"<p>{(open ? "No change of a setting is recorded so far." : "No setting was changed.")}</p>")
        : Html.Of($"""
            <div class="scroll"><table><caption>What was changed</caption><thead><tr><th scope="col">Setting</th><th scope="col">Before</th><th scope="col">After</th></tr></thead>
            <tbody>{Html.Each(changes, change => Html.Of($"""<tr><th scope="row">{change.Setting}</th><td>{change.Before}</td><td>{change.After}</td></tr>"""))}</tbody></table></div>
            """);

    private static Html StartCode(SettingsConclusion? settings) => settings is { StartCodeLine.Length: > 0 }
        ? Html.Of($"""
            <h3>Line for the slicer’s start code</h3>
            <p>The stored mesh is used only when the print asks for it. Put this line into the slicer’s start code, after homing:</p>
            <pre>{settings.StartCodeLine}</pre>
            """)
        : Html.Nothing;

    private static Html All(RunRecord run, SettingsConclusion? settings)
    {
        ImmutableSortedDictionary<string, string>? before = settings?.Before.Values ?? run.Conclusion<PreflightConclusion>()?.SettingsBefore.Values;
        if (before is null || before.IsEmpty)
        {
            return Html.Nothing;
        }

        ImmutableSortedDictionary<string, string> after = settings?.After.Values ?? ImmutableSortedDictionary<string, string>.Empty;
        return Html.Of($"""
            <details><summary>All settings as reported</summary><div class="scroll"><table><thead><tr><th scope="col">Setting</th><th scope="col">Before</th><th scope="col">After</th></tr></thead>
            <tbody>{Html.Each(before.Keys.Union(after.Keys).Order(StringComparer.Ordinal), name => Html.Of($"""<tr><th scope="row">{name}</th><td>{before.GetValueOrDefault(name, "–")}</td><td>{after.GetValueOrDefault(name, "–")}</td></tr>"""))}</tbody></table></div></details>
            """);
    }
}
