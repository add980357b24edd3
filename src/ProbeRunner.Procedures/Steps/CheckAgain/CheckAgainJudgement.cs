using ProbeRunner.Machine.Heat;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Metrology.CaptureComparison;
using ProbeRunner.Metrology.Comparison;
using ProbeRunner.Metrology.JointModel;
using ProbeRunner.Metrology.Planes;
using ProbeRunner.Metrology.Results;
using ProbeRunner.Metrology.Series;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Procedures.Steps.CheckAgain;

/// <summary>What changed since the earlier capture, and whether it matters.</summary>
internal static class CheckAgainJudgement
{
    private const double OtherBedCelsius = 5;
    private const double OtherNozzleCelsius = 20;
    private const double OffsetResolutionMm = 0.005;

    /// <summary>Concludes.</summary>
    public static StepConclusion Conclude(
        MachineProfile profile, CheckAgainParameters parameters, EarlierCapture earlier, CheckTouches touches, ProbeOffset offset, Temperatures heat, string plate)
    {
        double[] now = [.. touches.Series.Select(reading => reading.Z)];
        double sigma = SeriesSummary.Of(now).Value.StandardDeviation;
        SeriesSummary? then = earlier.SeriesMm.Length >= 2 ? SeriesSummary.Of(earlier.SeriesMm).OrElse(null) : null;
        SeriesComparison? probe = then is null ? null : SeriesComparison.Of(earlier.SeriesMm, now).OrElse(null);
        Answer<JudgedDifference> compared = JudgedDifference.Between(
            earlier.Readings, EarlierCapture.Taken([.. touches.Places]), Options(profile, then?.StandardDeviation), Options(profile, sigma), parameters.ToleranceMm);
        if (compared.Refusal is { } why)
        {
            return new PlainConclusion(Verdicts.Undecided($"The two captures can't be compared: {why.Message}"), []);
        }

        JudgedDifference bed = compared.Value;
        bool sameHeat = IsSameHeat(earlier, heat), otherPlate = TakenUnder.IsOtherPlate(plate, earlier.Plate);
        bool isProbeWorse = probe is { RatioLower: > 1 } && sigma > profile.Probe.BadSigmaMm;
        return new CheckAgainConclusion(
            Verdict(parameters, earlier, bed, sameHeat, otherPlate, isProbeWorse),
            [.. otherPlate ? [OtherPlate(earlier.Plate, plate)] : Array.Empty<Finding>(), .. Findings(parameters, earlier, bed, offset, heat, sameHeat, isProbeWorse ? probe : null)],
            earlier.Run,
            [.. touches.Places],
            parameters.ToleranceMm,
            [.. bed.Terms.Concat(bed.Corners).Append(bed.Local).Select(Change)],
            then?.StandardDeviation,
            sigma,
            probe?.RatioLower,
            probe?.RatioUpper,
            earlier.Offset,
            offset,
            earlier is { BedCelsius: { } warm, NozzleCelsius: { } nozzle } ? FormattableString.Invariant($"bed {warm:0} degC, nozzle {nozzle:0} degC{(earlier.Plate.Length > 0 ? $", plate \"{earlier.Plate}\"" : string.Empty)}") : "not on record",
            Conditions.Of(heat, plate: plate))
        { TakenUnder = new TakenUnder(heat.BedCelsius, heat.NozzleCelsius, heat.BedTargetCelsius, plate) };
    }

    private static SurfaceModelOptions Options(MachineProfile profile, double? sigma) =>
        new() { Bed = new Box(0, 0, profile.Bed.WidthMm, profile.Bed.DepthMm), RepeatabilityMm = sigma is > 0 ? Math.Max(sigma.Value, 0.001) : null };

    private static bool IsSameHeat(EarlierCapture earlier, Temperatures heat) =>
        earlier is not { BedCelsius: { } bed, NozzleCelsius: { } nozzle }
        || (Math.Abs(bed - heat.BedCelsius) <= OtherBedCelsius && Math.Abs(nozzle - heat.NozzleCelsius) <= OtherNozzleCelsius);

    private static StepVerdict Verdict(CheckAgainParameters parameters, EarlierCapture earlier, JudgedDifference bed, bool sameHeat, bool otherPlate, bool isProbeWorse)
    {
        string largest = Words(bed.Terms.MaxBy(term => Math.Abs(term.ChangeMm)));
        return (bed.Matters, isProbeWorse) switch
        {
            (Mattering.Yes, _) when otherPlate => Verdicts.Undecided($"The bed differs from run {earlier.Run} by more than matters ({largest}), but another plate lies on it; the plate alone may do that. Check again on the plate {earlier.Plate}, or capture this one anew."),
            (Mattering.Yes, _) when !sameHeat => Verdicts.Undecided($"The bed differs from run {earlier.Run} by more than matters ({largest}), but it was as warm neither time; heat alone may do that. Check again as warm as then."),
            (Mattering.Yes, _) => Verdicts.NotFit(FormattableString.Invariant($"The bed is no longer as run {earlier.Run} captured it: {largest}; {parameters.ToleranceMm:0.000} mm would not matter."), 0.95),
            (_, true) => Verdicts.NotFit($"The bed is as run {earlier.Run} captured it, but the probe repeats worse than then.", 0.95),
            (Mattering.No, _) => Verdicts.Fit(FormattableString.Invariant($"Nothing changed since run {earlier.Run} that matters: every change of tilt, bow and twist lies within {parameters.ToleranceMm:0.000} mm, the largest is {largest}."), 0.95),
            _ => Verdicts.Undecided(FormattableString.Invariant($"Whether a change since run {earlier.Run} goes beyond {parameters.ToleranceMm:0.000} mm stays open: {largest}. A denser grid would tell (columns, rows).")),
        };
    }

    private static IEnumerable<Finding> Findings(
        CheckAgainParameters parameters, EarlierCapture earlier, JudgedDifference bed, ProbeOffset offset, Temperatures heat, bool sameHeat, SeriesComparison? worse)
    {
        JudgedChange corner = bed.WorstCorner;
        if (bed.Matters == Mattering.Yes && corner.Matters == Mattering.Yes && bed.Terms.Any(term => term.Matters == Mattering.Yes))
        {
            yield return new Finding(
                "check-again.corner-moved", $"The {corner.Name} stands {(corner.ChangeMm > 0 ? "higher" : "lower")} than it did, against the rest of the bed.", Math.Abs(corner.ChangeMm), corner.Name, 0.95,
                $"{Words(corner)}; {string.Join("; ", bed.Terms.Where(term => term.Matters != Mattering.No).Select(Words))}.",
                "A screw was turned or worked loose, or the plate lies differently: look under that corner, seat the plate, level the bed at its screws, then capture it anew; the stored mesh fits no longer.");
        }
        else if (bed.Terms.FirstOrDefault(term => term.Matters == Mattering.Yes) is { Name: { } name } term)
        {
            yield return new Finding(
                "check-again.shape-changed", $"The bed's shape changed: {name}.", Math.Abs(term.ChangeMm), "bed", 0.95, Words(term) + ".",
                "See that the plate lies flat and is the same as then; level the bed at its screws, then capture it anew.");
        }

        if (bed.Local.Matters != Mattering.No)
        {
            yield return new Finding(
                "check-again.place-changed", "One place changed and the rest did not.", Math.Abs(bed.Local.ChangeMm), bed.Local.Name, 1 - bed.Difference.Largest.PValue, Words(bed.Local) + ".",
                "Look for dirt or a dent there, under the plate too; clean it and check again.");
        }

        if (worse is not null)
        {
            yield return new Finding(
                "check-again.probe-worse", "The probe repeats worse than it did.", null, "probe", 0.95,
                FormattableString.Invariant($"Its scatter is {worse.SigmaRatio:0.0} times what it was (95 %: {worse.RatioLower:0.0} to {worse.RatioUpper:0.0})."),
                "Tighten the probe and its bracket, clean its pin, check its plug; then run the series.");
        }

        if (earlier.Offset is { } before && Math.Abs(before.Z - offset.Z) > OffsetResolutionMm)
        {
            yield return new Finding(
                "check-again.offset-changed", "The controller's Z offset is not the one of that run.", Math.Abs(offset.Z - before.Z), "controller", 1,
                FormattableString.Invariant($"It was {before.Z:0.000} mm, now it is {offset.Z:0.000} mm."),
                "If that was not on purpose, put it back (restore) or measure it anew (set-offset).");
        }

        if (!sameHeat)
        {
            yield return new Finding(
                "check-again.other-conditions", "The bed or nozzle is not as warm as it was then.", null, "bed", 1,
                FormattableString.Invariant($"Then bed {earlier.BedCelsius:0} and nozzle {earlier.NozzleCelsius:0} degC, now {heat.BedCelsius:0} and {heat.NozzleCelsius:0} degC."),
                "Heat moves beds; check again as warm as then before believing a small change.");
        }
    }

    private static Finding OtherPlate(string then, string now) => new(
        "check-again.other-plate", "Another plate lies on the bed than when it was captured.", null, "bed", 1,
        $"Then {then}, now {now}.",
        $"Lay {then} on the bed and check again; or, to print on {now}, measure the offset and capture the bed on it.");

    private static BedChange Change(JudgedChange change) => new(change.Name, change.ChangeMm, change.LowerMm, change.UpperMm, change.Matters switch
    {
        Mattering.Yes => "yes",
        Mattering.No => "no",
        _ => "open",
    });

    private static string Words(JudgedChange change) =>
        FormattableString.Invariant($"{change.Name} {change.ChangeMm:+0.000;-0.000} mm ({change.LowerMm:+0.000;-0.000} to {change.UpperMm:+0.000;-0.000})");
}
