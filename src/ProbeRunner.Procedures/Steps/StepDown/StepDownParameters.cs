using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Procedures.Steps.Heating;

namespace ProbeRunner.Procedures.Steps.StepDown;

/// <summary>Parameters of the step-down.</summary>
/// <param name="Place">Where; the homing place when null.</param>
/// <param name="Takes">How many takes, 1 to 5.</param>
/// <param name="Touches">Touches before each take, 1 to 20.</param>
/// <param name="HalfWidthMm">Half width of a take's 95 % interval at which it is done, mm, 0.004 to 0.05.</param>
/// <param name="MostAnswers">Answers of a take after which it is done in any case, 10 to 200.</param>
/// <param name="GaugeWord">What lies under the nozzle: <see cref="Gauge.Paper"/> or <see cref="Gauge.Feeler"/>.</param>
/// <param name="PaperMm">Its thickness, mm, 0.03 to 0.5; the person is asked when null.</param>
/// <param name="PaperHalfWidthMm">How far that may be off, mm: a rectangular distribution's half width, 0.001 to 0.05.</param>
/// <param name="ZeroMeans">What Z = 0 is to mean, as in <see cref="ZeroMeaning"/>.</param>
/// <param name="Cold">Whether the heaters are left as they are; the result is then provisional.</param>
/// <param name="Soak">How long the bed has been hot before the first take; the profile's soak when null.</param>
internal sealed record StepDownParameters(
    BedPoint? Place,
    int Takes,
    int Touches,
    double HalfWidthMm,
    int MostAnswers,
    string GaugeWord,
    double? PaperMm,
    double PaperHalfWidthMm,
    string ZeroMeans,
    bool Cold,
    TimeSpan? Soak)
{
    private static readonly Dictionary<string, string> Gauges = new(StringComparer.Ordinal) { ["paper"] = Gauge.Paper, ["feeler"] = Gauge.Feeler };

    /// <summary>
    /// Keys: place_mm, takes, touches, half_width_mm, most_answers, gauge ("paper" or "feeler"), paper_mm (its thickness, of either kind),
    /// paper_half_width_mm, zero_means ("touching" or "paper"), cold, soak_minutes (0 to 240).
    /// </summary>
    public static StepDownParameters Read(TomlSection section)
    {
        string gauge = section.OneOf("gauge", Gauges, "paper");
        return new(
            PlaceParameter.Read(section),
            section.Whole("takes", 1, 5, 2),
            section.Whole("touches", 1, 20, 4),
            section.Number("half_width_mm", 0.004, 0.05, 0.014),
            section.Whole("most_answers", 10, 200, 45),
            gauge,
            section.Has("paper_mm") ? section.Number("paper_mm", 0.03, 0.5, Gauge.DefaultMm) : null,
            section.Number("paper_half_width_mm", 0.001, 0.05, gauge == Gauge.Feeler ? Gauge.FeelerHalfWidthMm : Gauge.DefaultHalfWidthMm),
            ZeroMeaning.Read(section),
            section.Flag("cold", false),
            section.Has("soak_minutes") ? TimeSpan.FromMinutes(section.Number("soak_minutes", 0, 240, 0)) : null);
    }

    /// <summary>What is heated, and for how long; null for nothing.</summary>
    public HeatPlan? HeatFor(HeatProfile heat) => Cold ? null : new HeatPlan(heat.ProbingNozzleCelsius, heat.PrintingBedCelsius, Soak ?? heat.Soak);
}
