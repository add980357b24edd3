using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Heat;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Metrology.Budgets;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Procedures.Steps.Lean;

/// <summary>What the visits say about the lean, and what it does to a first layer.</summary>
internal sealed class LeanJudgement(MachineProfile profile, LeanParameters parameters)
{
    private const double Confidence = 0.95;

    /// <summary>The person ended it.</summary>
    public static Finding CalledOff { get; } = new(
        "lean.called-off", "The look along the gantry was called off.", null, "gantry", 1, "Called off by the person.", "Run the step again when ready.");

    /// <summary>The paper told nothing.</summary>
    public static Finding NoDrag(BedPoint place) => new(
        "lean.no-drag", "The paper test came to no end at one of the places.", null, FormattableString.Invariant($"x {place.X:0}, y {place.Y:0}"), 1,
        "The paper never dragged, or was felt again and again where it then kept free.",
        "Clean the nozzle tip, use a flat fresh paper, check trigger_to_nozzle_mm in the profile, and run the step again.");

    /// <summary>Probe and nozzle have too little in common.</summary>
    public static Finding NoRoom(string axis) => new(
        "lean.no-room", $"Along {axis} probe and nozzle have too little of the bed in common.", null, $"{axis} axis", 1,
        "With the controller's probe offset there are not enough places that both can come down on.", "Measure the probe's X/Y offset again, or mount the probe nearer to the nozzle.");

    /// <summary>Fits a straight line to the visits of one axis.</summary>
    /// <param name="row">Along which axis.</param>
    /// <param name="visits">Three at least, at two or more places.</param>
    public LeanAlongAxis Fit(LeanPlaces row, IReadOnlyList<LeanVisit> visits)
    {
        BedPoint home = profile.Travel.HomingPlace;
        double origin = row.Along(home);
        FittedLine line = FittedLine.Fit(
            [.. visits.Select(visit => row.Along(visit.Place))], [.. visits.Select(visit => visit.TouchOverDragMm)], origin).Value;
        (double lower, double upper) = line.SlopeInterval(Confidence).Value;
        return new LeanAlongAxis(
            row.Axis, [.. visits], line.Slope, line.SlopeUncertainty, line.DegreesOfFreedom, lower, upper, origin, line.Intercept,
            row.Axis == "X" ? profile.Bed.WidthMm : profile.Bed.DepthMm);
    }

    /// <summary>The conclusion.</summary>
    /// <param name="found">The axes finished.</param>
    /// <param name="heat">Temperatures at the beginning.</param>
    /// <param name="wrong">What ended the step early; null when nothing did.</param>
    public LeanConclusion Conclude(IReadOnlyList<LeanAlongAxis> found, Temperatures heat, Finding? wrong)
    {
        IEnumerable<Finding> findings = found.Select(Judge).OfType<Finding>();
        StepVerdict verdict = found.Any(IsBeyond)
            ? Verdicts.NotFit(Sentence(found.First(IsBeyond)), Confidence)
            : wrong is not null
                ? Verdicts.Undecided(wrong.Title)
                : found.FirstOrDefault(axis => !IsWithin(axis)) is { } open
                    ? Verdicts.Undecided($"{Sentence(open)} More passes would tell.")
                    : Verdicts.Fit(string.Join(" ", found.Select(Sentence)), Confidence);
        return new LeanConclusion(verdict, [.. wrong is null ? [] : new[] { wrong }, .. findings], [.. found], parameters.ToleranceMm, Conditions.Of(heat));
    }

    private bool IsWithin(LeanAlongAxis axis) => Math.Max(Math.Abs(axis.LowerMm), Math.Abs(axis.UpperMm)) <= parameters.ToleranceMm;

    private bool IsBeyond(LeanAlongAxis axis) => axis.LowerMm > parameters.ToleranceMm || axis.UpperMm < -parameters.ToleranceMm;

    private string Sentence(LeanAlongAxis axis) => FormattableString.Invariant(
        $"Along {axis.Axis} the distance from nozzle to trigger changes by {axis.LowerMm:+0.000;-0.000;0.000} to {axis.UpperMm:+0.000;-0.000;0.000} mm from the bed's middle to its {Far(axis)} side; {parameters.ToleranceMm:0.000} mm is let pass.");

    private Finding? Judge(LeanAlongAxis axis)
    {
        if (IsWithin(axis))
        {
            return null;
        }

        double worst = Math.Max(Math.Abs(axis.AtNearSideMm), Math.Abs(axis.AtFarSideMm));
        string sides = $"{Side(axis.AtNearSideMm, axis.Axis == "X" ? "left" : "front")} and {Side(axis.AtFarSideMm, Far(axis))}";
        return IsBeyond(axis)
            ? new Finding(
                "lean.leans", $"The carriage leans along {axis.Axis}.", worst, $"gantry, along {axis.Axis}", Confidence,
                FormattableString.Invariant($"{Sentence(axis)} A first layer that follows the probe's readings would be laid {sides}."),
                "Screws can't cure it, and a mesh of the probe's readings carries it along instead of showing it. Look along the gantry for a twist: tighten the carriage, loosen and square the guides, then do this step again. Until then hand the mesh over in the same run as this step, which takes the slope out of it.")
            : new Finding(
                "lean.not-sure", $"Whether the carriage leans along {axis.Axis} is not certain enough.", worst, $"gantry, along {axis.Axis}", 0.5,
                FormattableString.Invariant($"{Sentence(axis)} By the best estimate a first layer would be laid {sides}."),
                "Run the step again with more passes, and take your time over each answer.");
    }

    private static string Side(double gapMm, string where) => FormattableString.Invariant(
        $"{Math.Abs(gapMm):0.00} mm {(gapMm < 0 ? "too near" : "too far")} at the bed's {where} side");

    private static string Far(LeanAlongAxis axis) => axis.Axis == "X" ? "right" : "back";
}
