using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Records.Markup;
using ProbeRunner.Records.Text;

namespace ProbeRunner.Records.Reports.Sections;

/// <summary>Of a capture, what stands beside its map: how it was touched, what moved meanwhile, the shape in numbers and the mesh that the bed needs.</summary>
internal static class CaptureDetailsPart
{
    /// <summary>The part.</summary>
    public static Html Render(CaptureDetails details) => Html.Of($"""
        <p>{Touched(details)} {Moved(details)} {Goal(details.Goal)}</p>
        {Shape(details)}
        {Mesh(details.Mesh)}
        """);

    private static string Touched(CaptureDetails details)
    {
        string scatter = details.TouchSigmaMm is { } sigma ? $" A touch scatters by {Figures.Mm(sigma)} (standard deviation, over all places together)." : string.Empty;
        string outliers = details.OutlierCount > 0 ? FormattableString.Invariant($" {details.OutlierCount} contradicted others of the same place; they are kept in the record and not counted.") : string.Empty;
        return FormattableString.Invariant($"{details.Touches} touches in {Figures.Number(details.Duration.TotalMinutes, 0)} minutes.{scatter}{outliers}");
    }

    private static string Moved(CaptureDetails details)
    {
        string datums = details.Datums.Length < 2
            ? string.Empty
            : $" The machine was homed in between; the datum epochs differ by {string.Join(", ", details.Datums.Skip(1).Select(datum => $"{Figures.SignedMm(datum.OffsetMm)} ± {Figures.Mm(datum.StandardUncertaintyMm)}"))}, which the map allows for.";
        if (details.Drift.IsEmpty)
        {
            return datums.TrimStart();
        }

        DriftPoint end = details.Drift[^1];
        return $"At the end the bed read {Figures.SignedMm(end.HeightMm)} ± {Figures.Mm(end.StandardUncertaintyMm)} against the beginning (probability that anything drifted: {Figures.Number(details.DriftProbability, 2)}).{datums}";
    }

    private static string Goal(CaptureGoal? goal)
    {
        if (goal is null)
        {
            return string.Empty;
        }

        string met = goal.Met ? "was reached" : "was not reached within the touches and minutes allowed";
        string hidden = goal is { BumpWidthMm: { } width, MissedBumpMm: { } height }
            ? $" A bump {Figures.Number(width, 0)} mm wide and lower than {Figures.Mm(height)} could have been missed."
            : string.Empty;
        return $"The goal of {Figures.Mm(goal.TargetRmsMm)} rms {met}.{hidden}";
    }

    private static Html Shape(CaptureDetails details) => details.Shape.IsEmpty ? Html.Nothing : Html.Of($"""
        <div class="scroll"><table><caption>Shape over the captured area, mm</caption>
        <thead><tr><th scope="col">Term</th><th scope="col" class="n">Size</th><th scope="col" class="n">Standard error</th></tr></thead>
        <tbody>{Html.Each(details.Shape, line => Html.Of($"""<tr><th scope="row">{line.Name}</th><td class="n">{Figures.Signed(line.SizeMm, 3)}</td><td class="n">{Figures.Number(line.StandardErrorMm, 4)}</td></tr>"""))}</tbody></table></div>
        """);

    private static Html Mesh(MeshNeed? mesh)
    {
        if (mesh is null)
        {
            return Html.Nothing;
        }

        string smallest = mesh.SmallestColumns > 0
            ? FormattableString.Invariant($"The smallest correction mesh that leaves no more than {Figures.Mm(mesh.ToleranceRmsMm)} rms has {mesh.SmallestColumns} × {mesh.SmallestRows} nodes.")
            : FormattableString.Invariant($"No correction mesh up to 15 × 15 nodes brings this bed within {Figures.Mm(mesh.ToleranceRmsMm)} rms.");
        string own = FormattableString.Invariant(
            $"The machine’s {mesh.OwnColumns} × {mesh.OwnRows} leaves {Figures.Mm(mesh.OwnFittedRmsMm)} rms when it is fitted to this map, {Figures.Mm(mesh.OwnSampledRmsMm)} when only the heights at its nodes are taken.");
        return Html.Of($"<p>{smallest} {own}</p>");
    }
}
