using System.Globalization;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Records.Markup;
using ProbeRunner.Records.Runs;
using ProbeRunner.Records.Text;

namespace ProbeRunner.Records.Reports.Sections;

/// <summary>The few numbers that are looked for, in a strip; those that there are.</summary>
internal static class KeyFigures
{
    /// <summary>The strip, or nothing when there is no number yet.</summary>
    public static Html Render(RunRecord run)
    {
        List<Html> figures = [];
        if (run.Conclusion<StepDownConclusion>() is { } stepDown)
        {
            figures.Add(Figure("Z offset", Figures.SignedMm(stepDown.OffsetMm), $"± {Figures.Mm(2 * stepDown.StandardUncertaintyMm)} (k = 2)"));
        }

        if (run.Conclusion<SeriesConclusion>() is { } series)
        {
            figures.Add(Figure(
                "Repeatability, s",
                Figures.Mm(series.SigmaMm, 4),
                $"{Figures.Percent(series.SigmaConfidence)} interval {Figures.Number(series.SigmaLowerMm, 4)} to {Figures.Mm(series.SigmaUpperMm, 4)}"));
        }

        if (run.Conclusion<CaptureConclusion>() is { } capture)
        {
            figures.Add(Figure(
                "Bed flatness",
                Figures.Mm(capture.FlatnessMm),
                $"minimum zone; {capture.Readings.Length.ToString(CultureInfo.InvariantCulture)} readings"));
            figures.Add(Figure(
                "Bed tilt",
                Figures.SignedMm(capture.TiltXMm),
                $"left to right; {Figures.SignedMm(capture.TiltYMm)} front to back"));
        }

        if (run.Conclusion<MeshConclusion>() is { } mesh)
        {
            figures.Add(Figure("Left after the mesh", Figures.Mm(mesh.ResidualRmsMm), $"rms; worst {Figures.Mm(mesh.ResidualWorstMm)}"));
        }

        return figures.Count == 0 ? Html.Nothing : Html.Of($"""<dl class="figures">{Html.Join(figures)}</dl>""");
    }

    private static Html Figure(string name, string value, string more) => Html.Of($"<div><dt>{name}</dt><dd>{value}<small>{more}</small></dd></div>");
}
