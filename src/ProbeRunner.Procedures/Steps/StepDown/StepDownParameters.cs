using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Toml;

namespace ProbeRunner.Procedures.Steps.StepDown;

/// <summary>Parameters of the step-down.</summary>
/// <param name="Place">Where; the homing place when null.</param>
/// <param name="Takes">How many takes, 1 to 5.</param>
/// <param name="Touches">Touches before each take, 1 to 20.</param>
/// <param name="HalfWidthMm">Half width of a take's 95 % interval at which it is done, mm, 0.004 to 0.05.</param>
/// <param name="MostAnswers">Answers of a take after which it is done in any case, 10 to 200.</param>
/// <param name="PaperMm">Thickness of the paper, mm, 0.03 to 0.5.</param>
/// <param name="PaperHalfWidthMm">How far it may be off, mm: a rectangular distribution's half width, 0.001 to 0.05.</param>
internal sealed record StepDownParameters(
    BedPoint? Place, int Takes, int Touches, double HalfWidthMm, int MostAnswers, double PaperMm, double PaperHalfWidthMm)
{
    /// <summary>
    /// Keys: place_mm, takes, touches, half_width_mm, most_answers, paper_mm, paper_half_width_mm. The paper's default, 0.10 within 0.01 mm,
    /// is common practice for office paper of 80 g/m2; no source. Measure a stack of ten sheets and enter it for a better offset.
    /// </summary>
    public static StepDownParameters Read(TomlSection section) => new(
        PlaceParameter.Read(section),
        section.Whole("takes", 1, 5, 2),
        section.Whole("touches", 1, 20, 4),
        section.Number("half_width_mm", 0.004, 0.05, 0.014),
        section.Whole("most_answers", 10, 200, 45),
        section.Number("paper_mm", 0.03, 0.5, 0.10),
        section.Number("paper_half_width_mm", 0.001, 0.05, 0.01));
}
