using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Toml;

namespace ProbeRunner.Procedures.Steps.Lean;

/// <summary>Which axes are looked at.</summary>
internal enum LeanAxes
{
    /// <summary>X, and Y where the gantry moves there.</summary>
    All,

    /// <summary>X alone.</summary>
    X,
}

/// <summary>Parameters of the lean along the gantry.</summary>
/// <param name="Axes">Which axes.</param>
/// <param name="Places">Places along each, 3 to 7.</param>
/// <param name="Passes">How often each place is visited, to and fro, 2 to 4: a steady drift then falls out.</param>
/// <param name="Touches">Touches at each visit, 1 to 10.</param>
/// <param name="HalfWidthMm">Half width of a visit's 95 % interval at which its paper test is done, mm, 0.008 to 0.05.</param>
/// <param name="MostAnswers">Answers of a visit after which it is done in any case, 8 to 60.</param>
/// <param name="ToleranceMm">Change of a first layer from the bed's middle to its side that is let pass, mm, 0.01 to 0.2.</param>
internal sealed record LeanParameters(
    LeanAxes Axes, int Places, int Passes, int Touches, double HalfWidthMm, int MostAnswers, double ToleranceMm)
{
    private static readonly Dictionary<string, LeanAxes> Words = new(StringComparer.Ordinal) { ["all"] = LeanAxes.All, ["x"] = LeanAxes.X };

    /// <summary>Keys: axes ("all" or "x"), places, passes, touches, half_width_mm, most_answers, tolerance_mm.</summary>
    public static LeanParameters Read(TomlSection section) => new(
        section.OneOf("axes", Words, "all"),
        section.Whole("places", 3, 7, 3),
        section.Whole("passes", 2, 4, 2),
        section.Whole("touches", 1, 10, 3),
        section.Number("half_width_mm", 0.008, 0.05, 0.02),
        section.Whole("most_answers", 8, 60, 30),
        section.Number("tolerance_mm", 0.01, 0.2, 0.04));

    /// <summary>Whether the lean along Y is looked for on a machine: only where the gantry moves there can there be one.</summary>
    public bool AlongY(MachineProfile profile) => Axes == LeanAxes.All && !profile.Bed.MovesAlongY;

    /// <summary>Visits on a machine.</summary>
    public int Visits(MachineProfile profile) => Places * Passes * (AlongY(profile) ? 2 : 1);
}
